using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>How sessions begin and end: start, reset, halt, cable pulled.</summary>
public class SessionTests
{
    [Fact]
    public void A_controller_that_opening_the_port_restarted_is_waited_for() => Script.RunRaw(
        true,
        ["~ 1.5", "<- start", "<- echo: made up firmware 1", "~ 0.7", "<- echo: settings loaded", "= silence 0.9", .. Script.NumberedStart],
        async (channel, _) =>
        {
            await channel.BeginSessionAsync(CancellationToken.None);
            Assert.True(channel.IsNumbered);
            Assert.Equal(0, channel.ResetCount);
        });

    [Fact]
    public void A_controller_that_starts_slowly_is_asked_again() => Script.RunRaw(
        true,
        ["-> #999 M110 N999", "~ 3", "<- start", "<- echo: made up firmware 1", "= silence 0.9", .. Script.NumberedStart],
        (channel, _) => channel.BeginSessionAsync(CancellationToken.None));

    [Theory]
    [InlineData(0.3)]
    [InlineData(0.8)]
    public void A_controller_that_chatters_without_a_pause_is_asked_all_the_same(double everySeconds) => VirtualTime.Run(async time =>
    {
        (DuplexLink host, DuplexLink controller) = DuplexLink.CreatePair("chatter");
        Scenario scenario = ScenarioFile.Load("good");
        scenario = scenario with { Controller = scenario.Controller with { RemarkSeconds = everySeconds } };
        await using SimulatedPrinterHost printer = SimulatedPrinterHost.Start(controller, scenario, time);
        await using var channel = new CommandChannel(host, WireGrammar.Instance, time, ChannelOptions.Default with { Numbered = true });

        await channel.BeginSessionAsync(CancellationToken.None);

        Assert.True(channel.IsNumbered);
        Assert.True(time.Elapsed < TimeSpan.FromSeconds(20));
    });

    [Fact]
    public void A_controller_that_wants_the_number_set_without_a_number_gets_that() => Script.RunRaw(
        true,
        [.. ThreeTimes("-> #999 M110 N999", "<- Error: line number", "<- Resend: 1", "<- ok"), "-> M110 N999", "<- ok", .. Script.NumberedStart[2..]],
        (channel, _) => channel.BeginSessionAsync(CancellationToken.None));

    [Fact]
    public void A_controller_that_does_not_check_checksums_is_talked_to_plainly() => Script.RunRaw(
        true,
        [
            .. Script.NumberedStart[..5], "<- ok T:21 /0", "-> " + WrongFor(1002), "<- ok T:21 /0", "-> G1 X1", "<- ok",
        ],
        async (channel, _) =>
        {
            await channel.BeginSessionAsync(CancellationToken.None);
            Assert.False(channel.IsNumbered);
            await channel.SendAsync(Move("X1"), CancellationToken.None);
        });

    [Fact]
    public void A_controller_that_knows_no_line_numbers_is_talked_to_plainly() => Script.RunRaw(
        true,
        [
            .. ThreeTimes("-> #999 M110 N999", "<- Unknown command: N999", "<- ok"),
            .. ThreeTimes("-> M110 N999", "<- Unknown command: M110", "<- ok"),
            .. Script.PlainStart,
        ],
        async (channel, _) =>
        {
            await channel.BeginSessionAsync(CancellationToken.None);
            Assert.False(channel.IsNumbered);
        });

    [Fact]
    public void A_controller_that_never_answers_is_given_up() => Script.RunRaw(
        false,
        [.. Enumerable.Repeat("-> M105", 5)],
        (channel, _) => Assert.ThrowsAsync<LinkSilentException>(() => channel.BeginSessionAsync(CancellationToken.None)));

    [Fact]
    public void Nothing_is_sent_before_a_session_was_begun() => Script.RunRaw(
        true, [], (channel, _) => Assert.ThrowsAsync<InvalidOperationException>(() => channel.SendAsync(Move("X1"), CancellationToken.None)));

    [Fact]
    public void A_reset_fails_what_is_under_way_and_what_waits_and_nothing_is_sent_until_a_new_session() => Script.Run(
        true,
        ["-> #1001 G30 X1 Y1", "~ 1", "<- start", "<- echo: made up firmware 1", "= silence 5", .. Script.NumberedStart, "-> #1001 M114", "<- X:0 Y:0 Z:0", "<- ok"],
        async (channel, time) =>
        {
            var resets = new List<ChannelEvent>();
            channel.Happened += happened => resets.AddRange(happened is ChannelEvent.ControllerReset ? [happened] : []);
            Task<Exchange> touch = channel.SendAsync(Touch("X1 Y1"), CancellationToken.None);
            Task<Exchange> waiting = channel.SendAsync(Move("X10"), CancellationToken.None);
            var reset = await Assert.ThrowsAsync<ControllerResetException>(() => touch);
            Assert.Equal("G30 X1 Y1", reset.Pending);
            await Assert.ThrowsAsync<ControllerResetException>(() => waiting);
            await Assert.ThrowsAsync<ControllerResetException>(() => channel.SendAsync(Position, CancellationToken.None));
            Assert.Equal([new ChannelEvent.ControllerReset(1, "start")], resets);

            await Task.Delay(TimeSpan.FromSeconds(6), time);
            await channel.BeginSessionAsync(CancellationToken.None);
            await channel.SendAsync(Position, CancellationToken.None);
            Assert.Equal(1, channel.ResetCount);
        });

    [Fact]
    public void A_reset_while_idle_fails_the_next_command() => Script.Run(
        true,
        ["<- start"],
        async (channel, time) =>
        {
            await Task.Delay(TimeSpan.FromSeconds(1), time);
            await Assert.ThrowsAsync<ControllerResetException>(() => channel.SendAsync(Move("X1"), CancellationToken.None));
        });

    [Fact]
    public void An_acknowledgement_right_before_a_reset_still_counts() => Script.Run(
        true,
        ["-> #1001 M114", "<- X:1 Y:2 Z:3\nok\nstart"],
        async (channel, _) =>
        {
            Assert.Single((await channel.SendAsync(Position, CancellationToken.None)).Replies);
            await Assert.ThrowsAsync<ControllerResetException>(() => channel.SendAsync(Move("X1"), CancellationToken.None));
        });

    [Fact]
    public void Halt_goes_out_past_a_command_under_way_and_latches() => Script.Run(
        true,
        ["-> #1001 G30 X1 Y1", "-> M112"],
        async (channel, time) =>
        {
            Task<Exchange> touch = channel.SendAsync(Touch("X1 Y1"), CancellationToken.None);
            Task<Exchange> waiting = channel.SendAsync(Move("X10"), CancellationToken.None);
            await Task.Delay(TimeSpan.FromSeconds(1), time);
            Assert.True(channel.Halt());
            await Assert.ThrowsAsync<ControllerHaltedException>(() => touch);
            await Assert.ThrowsAsync<ControllerHaltedException>(() => waiting);
            await Assert.ThrowsAsync<ControllerHaltedException>(() => channel.SendAsync(Position, CancellationToken.None));
        });

    [Fact]
    public void A_controller_that_halts_itself_fails_what_is_under_way() => Script.Run(
        true,
        ["-> #1001 G30 X1 Y1", "<- Error: printer halted, reset needed"],
        async (channel, _) =>
        {
            var halted = await Assert.ThrowsAsync<ControllerHaltedException>(() => channel.SendAsync(Touch("X1 Y1"), CancellationToken.None));
            Assert.Equal("Error: printer halted, reset needed", halted.Line);
        });

    [Fact]
    public void A_pulled_cable_fails_what_is_under_way_and_everything_after() => Script.Run(
        true,
        ["-> #1001 G30 X1 Y1", "= pull"],
        async (channel, _) =>
        {
            var lost = new List<ChannelEvent>();
            channel.Happened += happened => lost.AddRange(happened is ChannelEvent.LinkLost ? [happened] : []);
            await Assert.ThrowsAsync<LinkLostException>(() => channel.SendAsync(Touch("X1 Y1"), CancellationToken.None));
            await Assert.ThrowsAsync<LinkLostException>(() => channel.SendAsync(Position, CancellationToken.None));
            await Assert.ThrowsAsync<LinkLostException>(() => channel.BeginSessionAsync(CancellationToken.None));
            Assert.Single(lost);
            Assert.False(channel.Halt());
        });

    [Fact]
    public void An_interjected_command_goes_out_at_once_and_its_acknowledgement_is_nobodys() => Script.Run(
        true,
        [
            "-> #1001 G30 X1 Y1", "-> M104 S0", "~ 3", "<- Bed X: 1 Y: 1 Z: 0.1", "<- ok", "<- ok", "= silence 0.9", .. Script.Question(1002),
            "-> #1003 M114", "<- X:1 Y:2 Z:3", "<- ok",
        ],
        async (channel, time) =>
        {
            Task<Exchange> touch = channel.SendAsync(Touch("X1 Y1"), CancellationToken.None);
            await Task.Delay(TimeSpan.FromSeconds(1), time);
            Assert.True(channel.Interject(new Command("M104 S0", CommandKind.Setting)));
            Assert.Single((await touch).Replies);
            Assert.Single((await channel.SendAsync(Position, CancellationToken.None)).Replies);
        });

    [Fact]
    public void A_listener_that_throws_disturbs_nothing() => Script.Run(
        true,
        ["-> #1001 M114", "<- busy: thinking", "<- X:1 Y:2 Z:3", "<- ok"],
        async (channel, _) =>
        {
            channel.Happened += _ => throw new InvalidOperationException("listener");
            Assert.Single((await channel.SendAsync(Position, CancellationToken.None)).Replies);
        });

    [Fact]
    public void A_device_that_takes_no_bytes_counts_as_lost_and_gets_no_more() => VirtualTime.Run(async time =>
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("stuck");
        var channel = new CommandChannel(new StuckLink(near), Instance, time);
        await Assert.ThrowsAsync<LinkLostException>(() => channel.BeginSessionAsync(CancellationToken.None));
        await Assert.ThrowsAsync<LinkLostException>(() => channel.SendAsync(Position, CancellationToken.None));
        await channel.DisposeAsync();
        await far.DisposeAsync();
    });

    [Theory]
    [InlineData("")]
    [InlineData("G1 X1\nM112")]
    [InlineData("G1 X1\r")]
    [InlineData("G1 X１")]
    [InlineData("G1 \0X1")]
    public void Only_one_line_of_printable_ASCII_is_sent(string text) => Script.Run(
        true, [], (channel, _) => Assert.ThrowsAsync<ArgumentException>(() => channel.SendAsync(new Command(text, CommandKind.Motion), CancellationToken.None)));

    private static IEnumerable<string> ThreeTimes(params string[] steps) => [.. steps, .. steps, .. steps];

    private static string WrongFor(int number)
    {
        string numbered = Instance.Number("M105", number);
        return Instance.Seal(numbered, Framing.LineFramerTests.XorOf(numbered) ^ 0x40);
    }

    private sealed class StuckLink(DuplexLink link) : ILink
    {
        public string Name => link.Name;

        public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => link.ReadAsync(buffer, cancel);

        public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
        {
            var never = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            await using (cancel.Register(() => never.TrySetCanceled(cancel)))
            {
                await never.Task;
            }
        }

        public bool WriteUrgent(ReadOnlySpan<byte> bytes) => false;

        public ValueTask DisposeAsync() => link.DisposeAsync();
    }
}
