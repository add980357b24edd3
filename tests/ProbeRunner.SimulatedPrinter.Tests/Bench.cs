using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Tests;

/// <summary>A simulated printer on virtual time with a plain client at the other end, that sends a line and collects what comes until its ok.</summary>
internal sealed partial class Bench
{
    private DuplexLink _link;
    private readonly StringBuilder _received = new();
    private readonly byte[] _buffer = new byte[4096];

    private Bench(VirtualTime time, SimulatedPrinterHost printer, DuplexLink link) => (Time, Printer, _link) = (time, printer, link);

    public VirtualTime Time { get; }

    public SimulatedPrinterHost Printer { get; }

    public Truth Truth => Printer.Truth;

    public long LastNumber { get; set; }

    /// <summary>Runs a test body at a bench.</summary>
    public static void Run(Scenario scenario, Func<Bench, Task> body, FaultPlan? faults = null) => VirtualTime.Run(async time =>
    {
        var (host, controller) = DuplexLink.CreatePair("bench");
        await using var printer = SimulatedPrinterHost.Start(controller, scenario, time, faults);
        await body(new Bench(time, printer, host));
        Assert.Equal(0, time.ForeignPosts);
    });

    public static Scenario Good(Func<ControllerScenario, ControllerScenario>? change = null)
    {
        var scenario = ScenarioFile.Load("good");
        return change is null ? scenario : scenario with { Controller = change(scenario.Controller) };
    }

    /// <summary>Plugs a new cable in after the first was pulled.</summary>
    public void PlugAgain()
    {
        (_link, var controller) = DuplexLink.CreatePair("bench");
        _received.Clear();
        Printer.Plug(controller);
    }

    public async Task WriteAsync(string text) => await _link.WriteAsync(Encoding.Latin1.GetBytes(text), CancellationToken.None);

    /// <summary>Sends a line as it is and returns the answer's lines, the ok last.</summary>
    public async Task<List<string>> SendAsync(string line)
    {
        await WriteAsync(line + "\n");
        return await ReadToAsync(answer => answer.StartsWith("ok", StringComparison.Ordinal));
    }

    /// <summary>
    /// Sends a line with the next number and its checksum. After anything but a clean answer it waits for quiet, and sends the
    /// line again unless the controller asks for the next one: that means that it was taken.
    /// </summary>
    public async Task<List<string>> SendNumberedAsync(string command)
    {
        var numbered = Seal(++LastNumber, command);
        List<string> all = [];
        while (true)
        {
            await WriteAsync(numbered + "\n");
            var answer = await ReadToQuietAsync();
            all.AddRange(answer);
            var asked = answer.FindLast(line => line.StartsWith("Resend: ", StringComparison.Ordinal));
            var isSpoilt = answer.Count == 0 || answer.Exists(line => line.Contains("unknown", StringComparison.Ordinal));
            if ((asked is null && !isSpoilt) || asked == FormattableString.Invariant($"Resend: {LastNumber + 1}"))
            {
                return all;
            }
        }
    }

    public static string Seal(long number, string command)
    {
        var text = FormattableString.Invariant($"N{number} {command}");
        return FormattableString.Invariant($"{text}*{text.Aggregate(0, (sum, character) => sum ^ character)}");
    }

    /// <summary>Reads lines up to one that fits.</summary>
    public async Task<List<string>> ReadToAsync(Func<string, bool> isLast)
    {
        List<string> lines = [];
        while (true)
        {
            var line = await ReadLineAsync();
            lines.Add(line);
            if (isLast(line))
            {
                return lines;
            }
        }
    }

    // An ok ends the answer when nothing follows it; without one, three keep-alives' time of silence does.
    private async Task<List<string>> ReadToQuietAsync()
    {
        List<string> lines = [];
        while (true)
        {
            var isOver = lines.Count > 0 && lines[^1].StartsWith("ok", StringComparison.Ordinal);
            using var deadline = new CancellationTokenSource(TimeSpan.FromSeconds(isOver ? 0.1 : 6), Time);
            try
            {
                lines.Add(await ReadLineAsync(deadline.Token));
            }
            catch (OperationCanceledException)
            {
                return lines;
            }
        }
    }

    public async Task<string> ReadLineAsync(CancellationToken cancel = default)
    {
        while (true)
        {
            var text = _received.ToString();
            var end = text.IndexOf('\n', StringComparison.Ordinal);
            if (end >= 0)
            {
                _received.Remove(0, end + 1);
                return text[..end].TrimEnd('\r');
            }

            var count = await _link.ReadAsync(_buffer, cancel);
            _received.Append(Encoding.Latin1.GetString(_buffer, 0, count));
        }
    }

    public Task HomeAsync() => SendAsync("G28");

    /// <summary>Touches a place and returns the reported height.</summary>
    public async Task<double> TouchAsync(double x, double y)
    {
        var answer = await SendAsync(FormattableString.Invariant($"G30 X{x:F3} Y{y:F3}"));
        return HeightIn(answer);
    }

    public static double HeightIn(List<string> answer) =>
        double.Parse(Height().Match(string.Join('\n', answer)).Groups[1].Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"[Zz][:=]\s*(-?\d+\.\d+)")]
    private static partial Regex Height();
}
