using System.Globalization;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Every line that the controller can say. Its wording is its own; only the shapes are the trade's.</summary>
internal sealed class Wording(ControllerScenario controller)
{
    private static readonly CultureInfo Invariant = CultureInfo.InvariantCulture;
    private readonly string _echo = controller.EchoPrefix ? "echo:" : "";
    private readonly string _format = "F" + controller.Decimals.ToString(Invariant);
    private readonly string _touchFormat = "F" + controller.TouchDecimals.ToString(Invariant);

    public const string Start = "start";
    public const string Wait = "wait";
    public const string Stored = "echo:settings stored";
    public const string Loaded = "echo:settings loaded";
    public const string Halted = "!! everything stopped by halt, reset to go on";
    public const string ProbeDidNotTrigger = "error: the probe did not trigger";
    public const string ProbeTriggeredBefore = "error: the probe was triggered before it went down";
    public const string ProbeDidNotExtend = "error: the probe failed to extend";
    public const string NotReachable = "error: the probe cannot reach that place";
    public const string HomeFirst = "error: probe and travel need homed axes, home first";
    public const string HomingFailed = "!! homing failed, printer halted, reset to go on";

    public string Busy => _echo + "busy: working";

    public string Ok(long lastLine, int freeMoves, int freeLines) => controller.Ok switch
    {
        OkStyle.Plain => "ok",
        OkStyle.Buffers => string.Create(Invariant, $"ok P{freeMoves} B{freeLines}"),
        _ => string.Create(Invariant, $"ok N{lastLine} P{freeMoves} B{freeLines}"),
    };

    public static string Refused(LineJudgement why, long lastLine)
    {
        var reason = why switch
        {
            LineJudgement.BadChecksum => "checksum does not fit",
            LineJudgement.NoChecksum => "line number without checksum",
            LineJudgement.NoNumber => "checksum without line number",
            _ => "line number is not the next one",
        };
        return string.Create(Invariant, $"error: {reason}, last good line: {lastLine}");
    }

    public string Resend(long line) => controller.Resend switch
    {
        ResendStyle.Word => string.Create(Invariant, $"Resend: {line}"),
        ResendStyle.Abbreviated => string.Create(Invariant, $"rs {line}"),
        _ => string.Create(Invariant, $"rs N{line}"),
    };

    public string Unknown(string line) => $"{_echo}unknown command: \"{line}\"";

    public static string Temperatures(double nozzle, double nozzleTarget, double bed, double bedTarget, bool heatsNozzle, bool heatsBed) =>
        string.Create(Invariant, $"T:{nozzle:F1} /{nozzleTarget:F1} B:{bed:F1} /{bedTarget:F1} @:{(heatsNozzle ? 127 : 0)} B@:{(heatsBed ? 127 : 0)}");

    public string Position(Axes3 place, double extruded, double stepsX, double stepsY, double stepsZ) => string.Create(
        Invariant, $"X:{N(place.X)} Y:{N(place.Y)} Z:{N(place.Z)} E:{extruded:F2} Steps X:{stepsX:F0} Y:{stepsY:F0} Z:{stepsZ:F0}");

    public string Touched(double x, double y, double z) => controller.TouchReport == TouchReportStyle.Labelled
        ? string.Create(Invariant, $"Bed touched at X: {N(x)} Y: {N(y)} Z: {T(z)}")
        : string.Create(Invariant, $"touch {x:F3},{y:F3} gives z={T(z)}");

    public string Offset(double x, double y, double z) => controller.OffsetReportIsCommand
        ? $"{_echo}M851 X{N(x)} Y{N(y)} Z{N(z)}"
        : $"{_echo}Probe offset X{N(x)} Y{N(y)} Z{N(z)}";

    public string MeshState(bool on) => $"{_echo}mesh correction {OnOff(on)}";

    public static string MeshArea(MeshScenario mesh, double originX, double originY) => string.Create(
        Invariant,
        $"Mesh of {mesh.Columns} x {mesh.Rows} nodes, X:{mesh.MinX + originX:F1} Y:{mesh.MinY + originY:F1} to X:{mesh.MaxX + originX:F1} Y:{mesh.MaxY + originY:F1}");

    public static string MeshRow(ReadOnlySpan<double> heights)
    {
        var texts = new string[heights.Length];
        for (var column = 0; column < heights.Length; column++)
        {
            texts[column] = heights[column].ToString("+0.0000;-0.0000;+0.0000", Invariant);
        }

        return " " + string.Join(' ', texts);
    }

    public string SoftLimits(bool on, Axes3 least, Axes3 greatest) =>
        $"{_echo}soft limits {OnOff(on)}, Min X:{N(least.X)} Y:{N(least.Y)} Z:{N(least.Z)} Max X:{N(greatest.X)} Y:{N(greatest.Y)} Z:{N(greatest.Z)}";

    public string Setting(FormattableString command) => _echo + command.ToString(Invariant);

    public static string Switch(string name, bool triggered) => $"{name}: {(triggered ? "TRIGGERED" : "open")}";

    public string N(double number) => Unsigned(number).ToString(_format, Invariant);

    private string T(double number) => Unsigned(number).ToString(_touchFormat, Invariant);

    private static string OnOff(bool on) => on ? "on" : "off";

    // "-0.000" is a number that some programs stumble over, and no controller means it.
    private static double Unsigned(double number) => Math.Abs(number) < 0.00005 ? 0 : number;
}
