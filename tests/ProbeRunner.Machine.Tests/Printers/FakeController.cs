using System.Globalization;
using System.Text.RegularExpressions;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Machine.Tests.Printers;

/// <summary>
/// The smallest controller a printer can talk to, behind the channel's contract: it answers at once, keeps what it was told, and lets a
/// test replace any answer. Every command it got is kept in <see cref="Sent"/>.
/// </summary>
internal sealed partial class FakeController : ICommandChannel
{
    private static readonly CultureInfo Invariant = CultureInfo.InvariantCulture;

    public List<string> Sent { get; } = [];

    /// <summary>Replaces the answer to a command: null leaves the usual one; may throw what a channel throws.</summary>
    public Func<string, string[]?> Instead { get; set; } = _ => null;

    public double X { get; set; }

    public double Y { get; set; }

    public double Z { get; set; } = 3;

    public (double X, double Y, double Z) Offset { get; set; } = (-38, -9, -2);

    /// <summary>True height of the nozzle at the trigger, in the controller's Z.</summary>
    public Func<double, double, double> TriggerZ { get; set; } = (_, _) => 2.0;

    public bool MeshOn { get; set; } = true;

    public double NozzleTarget { get; private set; }

    public double BedTarget { get; private set; }

    public double[] Mesh { get; } = new double[25];

    public int Sessions { get; private set; }

    public int ResetCount { get; private set; }

    public bool IsNumbered => true;

    public WireTrace Trace { get; } = new(TimeProvider.System);

    public LinkHealth Health => default;

    public event Action<ChannelEvent>? Happened;

    private bool IsRelative { get; set; }

    private bool MustBegin { get; set; } = true;

    /// <summary>The controller starts anew: everything that was not stored is gone.</summary>
    public void Reset()
    {
        ResetCount++;
        MustBegin = true;
        MeshOn = false;
        (NozzleTarget, BedTarget) = (0, 0);
        Happened?.Invoke(new ChannelEvent.ControllerReset(ResetCount, "start"));
    }

    public Task BeginSessionAsync(CancellationToken cancel)
    {
        Sessions++;
        MustBegin = false;
        return Task.CompletedTask;
    }

    public Task<Exchange> SendAsync(Command command, CancellationToken cancel)
    {
        if (MustBegin)
        {
            throw new ControllerResetException("start", command.Text);
        }

        Sent.Add(command.Text);
        string[] lines = Instead(command.Text) ?? Answer(command.Text);
        return Task.FromResult(new Exchange(command, [.. lines], "ok"));
    }

    public bool Interject(Command command)
    {
        Sent.Add("past everything: " + command.Text);
        return true;
    }

    public bool Halt()
    {
        Sent.Add("halt");
        MustBegin = true;
        return true;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private static string[] One(FormattableString line) => [line.ToString(Invariant)];

    private string[] Answer(string text)
    {
        string word = text.Split(' ')[0];
        switch (word)
        {
            case "G28":
                Z = -Offset.Z + 5;
                return [];
            case "G90" or "G91":
                IsRelative = word == "G91";
                return [];
            case "G1":
                Move(text);
                return [];
            case "G30":
                (double x, double y) = (Value(text, 'X') ?? 0, Value(text, 'Y') ?? 0);
                (X, Y) = (x - Offset.X, y - Offset.Y);
                double trigger = TriggerZ(x, y);
                Z = trigger + 5;
                return One($"Bed touched at X: {x:F2} Y: {y:F2} Z: {trigger + Offset.Z:F4}");
            case "M114":
                return One($"X:{X:F2} Y:{Y:F2} Z:{Z:F2} E:0.00");
            case "M851" when Value(text, 'Z') is double z:
                Offset = (Value(text, 'X') ?? 0, Value(text, 'Y') ?? 0, z);
                return [];
            case "M851":
                return One($"Probe offset X{Offset.X:F2} Y{Offset.Y:F2} Z{Offset.Z:F2}");
            case "M420":
                MeshOn = text.EndsWith('1') || (MeshOn && text.EndsWith('V'));
                string state = "mesh correction " + (MeshOn ? "on" : "off");
                return text.EndsWith('V') ? [.. Rows(), state] : [state];
            case "M421":
                Mesh[((int)Value(text, 'J')!.Value * 5) + (int)Value(text, 'I')!.Value] = Value(text, 'Z')!.Value;
                return [];
            case "M104":
                NozzleTarget = Value(text, 'S')!.Value;
                return [];
            case "M140":
                BedTarget = Value(text, 'S')!.Value;
                return [];
            case "M105":
                return One($"T:21.4 /{NozzleTarget:F1} B:21.0 /{BedTarget:F1} @:0 B@:0");
            case "M119":
                return ["x_min: open", "probe: open"];
            case "M211":
                return ["soft limits " + (text.EndsWith('0') ? "off" : "on")];
            case "M503":
                return ["echo:M92 X80.00 Y80.00 Z400.00", "echo:M84 S600"];
            default:
                return [];
        }
    }

    private void Move(string text)
    {
        double Next(double now, char letter) => Value(text, letter) is double value ? IsRelative ? now + value : value : now;
        (X, Y, Z) = (Next(X, 'X'), Next(Y, 'Y'), Next(Z, 'Z'));
    }

    private IEnumerable<string> Rows() => Enumerable.Range(0, 5)
        .Select(row => " " + string.Join(' ', Mesh.AsSpan(row * 5, 5).ToArray().Select(height => height.ToString("+0.000;-0.000", Invariant))));

    private static double? Value(string text, char letter)
    {
        Match match = Words().Match(text[1..]);
        while (match.Success)
        {
            if (match.Value[0] == letter)
            {
                return double.Parse(match.ValueSpan[1..], Invariant);
            }

            match = match.NextMatch();
        }

        return null;
    }

    [GeneratedRegex(@"[A-Z]-?\d+(\.\d+)?")]
    private static partial Regex Words();
}
