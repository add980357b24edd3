using System.Globalization;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>What is known of the machine now.</summary>
/// <param name="Profile">The machine as its profile describes it.</param>
/// <param name="Snapshot">What the printer knows.</param>
/// <param name="Health">How the link does.</param>
/// <param name="IsNumbered">Whether damaged lines can be told.</param>
/// <param name="IsLeft">Whether the link was closed since.</param>
/// <param name="HidesHeight">Whether the nozzle's height is hidden, because a hand is to judge it and not the eye.</param>
internal sealed record MachineView(MachineProfile Profile, PrinterSnapshot Snapshot, LinkHealth Health, bool IsNumbered, bool IsLeft = false, bool HidesHeight = false);

/// <summary>Where nozzle and probe are, what is hot, what is homed, which corrections are on, how the link does.</summary>
internal static class MachinePane
{
    private const double Hot = 45; // from here on skin is burnt by touching metal (common practice, no source)

    /// <summary>Draws it, the most important first where there is little room.</summary>
    public static void Draw(CellCanvas canvas, Rect area, MachineView machine)
    {
        var row = area.Top;
        foreach (var (name, value, ink) in Lines(machine))
        {
            if (row >= area.Bottom)
            {
                return;
            }

            canvas.Write(area.Left, row, CellText.Pad(name, 6), Role.Quiet);
            canvas.Write(area.Left + 7, row++, CellText.Fit(value, area.Columns - 7), ink);
        }
    }

    private static IEnumerable<(string Name, string Value, Ink Ink)> Lines(MachineView machine)
    {
        var now = machine.Snapshot;
        yield return ("place", now.Position is { } at ? Place(at.X, at.Y, machine.HidesHeight ? null : at.Z) + (machine.HidesHeight ? " hidden" : string.Empty) : "not known", now.Position is null ? Role.Warning : Role.Text);
        yield return now.Position is { } from
            ? ("probe", Place(from.X + machine.Profile.Probe.Offset.X, from.Y + machine.Profile.Probe.Offset.Y, null) + (now.ProbeExtended ? " out" : " in"), now.ProbeExtended ? Role.Probe : Role.Text)
            : ("probe", now.ProbeExtended ? "out" : "in", Role.Text);
        yield return ("homed", Homed(now.Homed), now.Homed == Axes.All ? Role.Good : Role.Warning);
        if (now.Temperatures is { } heat)
        {
            yield return ("nozzle", Heat(heat.NozzleCelsius, heat.NozzleTargetCelsius), HeatInk(heat.NozzleCelsius, heat.NozzleTargetCelsius));
            yield return ("bed", Heat(heat.BedCelsius, heat.BedTargetCelsius), HeatInk(heat.BedCelsius, heat.BedTargetCelsius));
        }
        else
        {
            yield return ("heat", "not told yet", Role.Quiet);
        }

        yield return ("mesh", now.MeshCorrectionOn switch { true => "correction on", false => "correction off", _ => "not known" }, Role.Text);
        yield return machine.IsLeft ? ("link", "closed", Role.Quiet) : ("link", Link(machine), machine.Health.Errors + machine.Health.Silences > 0 || !machine.IsNumbered ? Role.Warning : Role.Good);
    }

    private static string Place(double x, double y, double? z) =>
        string.Create(CultureInfo.InvariantCulture, $"{x,5:0.0} {y,5:0.0}") + (z is { } height ? string.Create(CultureInfo.InvariantCulture, $" {height,6:0.000}") : string.Empty);

    private static string Homed(Axes homed) => homed switch
    {
        Axes.All => "X Y Z",
        Axes.None => "nothing yet",
        _ => string.Join(' ', new[] { Axes.X, Axes.Y, Axes.Z }.Where(axis => homed.HasFlag(axis))) + " only",
    };

    private static string Heat(double celsius, double target) => target > 0
        ? string.Create(CultureInfo.InvariantCulture, $"{celsius:0.0} → {target:0} °C")
        : string.Create(CultureInfo.InvariantCulture, $"{celsius:0.0} °C off{(celsius >= Hot ? " HOT" : "")}");

    private static Ink HeatInk(double celsius, double target) => target > 0 ? Ink.Bold(Role.Warning) : celsius >= Hot ? Ink.Bold(Role.Bad) : Role.Text;

    private static string Link(MachineView machine)
    {
        var health = machine.Health;
        var trouble = health.Errors + health.Silences + health.Resends;
        var pace = health.MedianRoundTrip > TimeSpan.Zero ? string.Create(CultureInfo.InvariantCulture, $" {health.MedianRoundTrip.TotalMilliseconds:0.#} ms") : string.Empty;
        return (trouble == 0 ? "well" : string.Create(CultureInfo.InvariantCulture, $"{trouble} sent again")) + pace + (machine.IsNumbered ? string.Empty : ", no checksums");
    }
}
