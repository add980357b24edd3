using System.Globalization;
using System.Text.RegularExpressions;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>The channel against the simulated printer over a wire with faults, in virtual time.</summary>
public sealed partial class SimulatedPrinterTests
{
    private static readonly (double X, double Y)[] Places =
        [.. Enumerable.Range(0, 12).Select(i => (60.0 + (10 * (i % 4)), 60.0 + (20 * (i / 4))))];

    private static readonly Lazy<Session> Clean = new(() => Perform(FaultPlan.None));

    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 25).Select(seed => (ulong)seed)];

    [Fact]
    public void A_clean_session_reads_every_place()
    {
        Assert.Null(Clean.Value.Failure);
        Assert.Equal(Places.Select((_, i) => PlaceText(i)), Clean.Value.Readings.Select(reading => reading[..reading.LastIndexOf(' ')]));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void One_bad_byte_in_a_tenth_of_the_sent_lines_gives_the_same_readings(ulong seed) =>
        AssertSame(Perform(new FaultPlan { Seed = seed, BadByteToController = 0.1 }));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Every_received_line_in_pieces_gives_the_same_readings(ulong seed) =>
        AssertSame(Perform(new FaultPlan { Seed = seed, SplitFromController = 0.5 }));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Doubled_lines_give_the_same_readings(ulong seed) =>
        AssertSame(Perform(new FaultPlan { Seed = seed, DoubledFromController = 0.05 }));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Lost_lines_give_readings_of_the_right_place_or_a_typed_failure(ulong seed) =>
        AssertRightPlaces(Perform(new FaultPlan { Seed = seed, LostFromController = 0.05 }));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Late_lines_give_readings_of_the_right_place_or_a_typed_failure(ulong seed) =>
        AssertRightPlaces(Perform(new FaultPlan { Seed = seed, LateFromController = 0.05, LateSeconds = 8 }));

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Bad_bytes_both_ways_give_readings_of_the_right_place_or_a_typed_failure(ulong seed) =>
        AssertRightPlaces(Perform(new FaultPlan { Seed = seed, BadByteToController = 0.1, BadByteFromController = 0.1 }));

    [Fact]
    public void A_reset_whose_banner_is_lost_is_noticed_before_the_next_motion()
    {
        Session session = Perform(new FaultPlan { ResetAtMotion = 8, LosesBanner = true });
        Assert.IsType<ControllerResetException>(session.Failure);
    }

    private static void AssertSame(Session session)
    {
        Assert.True(session.Failure is null, $"{session.Failure}\n{session.Trace}");
        Assert.Equal(Clean.Value.Readings, session.Readings);
    }

    private static void AssertRightPlaces(Session session)
    {
        Assert.True(
            session.Failure is null or LineRefusedException or LinkSilentException or ControllerResetException or ControllerHaltedException
                or CommandUnknownException or CommandUncertainException,
            $"{session.Failure}\n{session.Trace}");
        for (int i = 0; i < session.Readings.Count; i++)
        {
            // A damaged report is nobody's; a whole one is never another place's.
            int place = i;
            Assert.DoesNotContain(session.Readings[i], Clean.Value.Readings.Where((_, other) => other != place));
        }
    }

    private static string Text(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);

    private static string PlaceText(int i) => $"{Text(Places[i].X)} {Text(Places[i].Y)}";

    private static Session Perform(FaultPlan faults) => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("bench");
        await using var host = SimulatedPrinterHost.Start(far, ScenarioFile.Load("good"), time, faults);
        await using var channel = new CommandChannel(near, WireGrammar.Instance, time);
        var readings = new List<string>();
        Exception? failure = null;
        try
        {
            await channel.BeginSessionAsync(CancellationToken.None);
            await channel.SendAsync(new Command("G28", CommandKind.LongMotion), CancellationToken.None);
            foreach ((double x, double y) in Places)
            {
                await channel.SendAsync(new Command("G1 Z10 F600", CommandKind.Motion), CancellationToken.None);
                await channel.SendAsync(new Command("M400", CommandKind.LongMotion), CancellationToken.None);
                await channel.SendAsync(WireGrammar.Position, CancellationToken.None);
                Exchange touch = await channel.SendAsync(
                    new Command($"G30 X{Text(x)} Y{Text(y)}", CommandKind.LongMotion) { Answer = line => Report().IsMatch(line) }, CancellationToken.None);
                Match report = touch.Replies.Select(line => Report().Match(line)).FirstOrDefault(match => match.Success) ?? Match.Empty;
                readings.Add($"{report.Groups["x"].Value} {report.Groups["y"].Value} {report.Groups["z"].Value}");
            }
        }
        catch (IOException stopped)
        {
            failure = stopped;
        }

        string trace = string.Join('\n', channel.Trace.Recent().TakeLast(40).Select(entry => $"{entry.Time:HH:mm:ss.fff} {entry.Direction} {entry.Printable}"));
        return new Session(readings, failure, trace);
    });

    [GeneratedRegex(@"X:\s*(?<x>\d+\.\d\d).*Y:\s*(?<y>\d+\.\d\d).*Z:\s*(?<z>-?\d+\.\d+)$", RegexOptions.NonBacktracking)]
    private static partial Regex Report();

    private sealed record Session(List<string> Readings, Exception? Failure, string Trace);
}
