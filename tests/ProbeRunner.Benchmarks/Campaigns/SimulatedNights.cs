using System.Diagnostics;
using System.Text;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// How many hours of a simulated machine's night pass in a real minute: an in-process printer on virtual time that is touched
/// without a pause, over the wire, with numbered lines and a check of every answer. No journal, no engine: what the simulator itself costs.
/// </summary>
internal static class SimulatedNights
{
    private const int TouchesPerNight = 20_000;

    /// <summary>Runs a night in each of a few scenarios and writes a line for each.</summary>
    public static void Run(TextWriter output)
    {
        foreach (var name in new[] { "good", "warped", "heron-good" })
        {
            var scenario = ScenarioFile.Load(name);
            Touch(scenario, TouchesPerNight); // Warm: the first night is compiled while it runs.
            var watch = Stopwatch.StartNew();
            var (hours, faults) = Touch(scenario, TouchesPerNight);
            var minutes = watch.Elapsed.TotalMinutes;
            output.WriteLine(FormattableString.Invariant(
                $"{name,-12} {TouchesPerNight} touches, {hours:F1} simulated hours in {minutes * 60:F2} s: {hours / minutes:F0} hours a minute, {minutes * 60e6 / TouchesPerNight:F0} us a touch, {faults} faults"));
        }
    }

    private static (double Hours, int Faults) Touch(Scenario scenario, int touches) => VirtualTime.Run(async time =>
    {
        var (client, controller) = DuplexLink.CreatePair("night");
        await using var printer = SimulatedPrinterHost.Start(controller, scenario, time);
        printer.Truth.TouchesKept = 0;
        var lines = new Conversation(client);
        var faults = await lines.SendAsync("G28") ? 0 : 1;
        var (origin, width) = (scenario.Bed.ControllerOriginX, scenario.Bed.WidthMm);
        for (var touch = 0; touch < touches; touch++)
        {
            var (x, y) = (40 + (touch % 10 * (width - 120) / 9), 40 + (touch / 10 % 10 * (width - 80) / 9));
            faults += await lines.SendAsync(FormattableString.Invariant($"G30 X{x + origin:F3} Y{y + origin:F3}")) ? 0 : 1;
        }

        return (time.Elapsed.TotalHours, faults + printer.Truth.IllegalMoves.Count + printer.Truth.Scratches.Count + time.ForeignPosts);
    });

    private sealed class Conversation(DuplexLink link)
    {
        private readonly byte[] _buffer = new byte[4096];
        private int _number;

        /// <returns>Whether the answer was clean.</returns>
        public async Task<bool> SendAsync(string command)
        {
            var text = FormattableString.Invariant($"N{_number++} {(_number == 1 ? "M110 N0" : command)}");
            var sum = text.Aggregate(0, (sum, character) => sum ^ character);
            await link.WriteAsync(Encoding.ASCII.GetBytes(FormattableString.Invariant($"{text}*{sum}\n")), CancellationToken.None);
            var clean = true;
            while (true)
            {
                var count = await link.ReadAsync(_buffer, CancellationToken.None);
                var received = Encoding.ASCII.GetString(_buffer, 0, count);
                clean &= !received.Contains("error", StringComparison.Ordinal);
                if (received.StartsWith("ok", StringComparison.Ordinal) || received.Contains("\nok", StringComparison.Ordinal))
                {
                    return _number > 1 ? clean : await SendAsync(command);
                }
            }
        }
    }
}
