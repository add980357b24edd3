using System.Collections.Immutable;
using System.Text;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Patterns;

/// <summary>
/// A first-layer pattern as a file in the words of a dialect. Nobody guards a file while it is printed, so what the motion guard would ask
/// of lines is asked here, before anything is written.
/// </summary>
public static class PatternFile
{
    private const double AboveClipsMm = 3;

    /// <summary>Renders a pattern.</summary>
    /// <param name="remarks">What the file says at its head, a line each.</param>
    /// <exception cref="NotAbleException">The dialect does not say how a pattern begins and ends, or how a line is laid.</exception>
    /// <exception cref="ArgumentException">A patch is not inside the printable area, too near to a clip, or lower than half the layer.</exception>
    /// <exception cref="HeatRefusedException">A temperature is above the machine's cap.</exception>
    public static string Render(Dialect dialect, MachineProfile profile, PatternHeat heat, ImmutableArray<string> remarks, IReadOnlyList<PatternBlock> blocks)
    {
        ArgumentNullException.ThrowIfNull(dialect);
        ArgumentNullException.ThrowIfNull(profile);
        ArgumentNullException.ThrowIfNull(blocks);
        if (dialect.Pattern is not { } words || !dialect.Has(Verb.LayLine))
        {
            throw new NotAbleException("write a pattern to a file");
        }

        CheckHeat(profile, heat);
        var file = new StringBuilder();
        foreach (string remark in remarks)
        {
            Remark(file, words, remark);
        }

        (string, double)[] numbers = [("probing", heat.ProbingCelsius), ("nozzle", heat.NozzleCelsius), ("bed", heat.BedCelsius)];
        Append(file, words.Begin.Select(line => line.Render(numbers)));
        double clear = profile.Bed.ClipHeightMm + Math.Max(AboveClipsMm, profile.Travel.ClearanceMm);
        foreach (PatternBlock block in blocks)
        {
            Check(profile, block);
            Remark(file, words, block.Remark);
            Append(file, Commands(dialect, profile, block, clear));
        }

        Append(file, Height(dialect, profile, clear));
        Append(file, words.End.Select(line => line.Render(numbers)));
        return file.ToString();
    }

    private static IEnumerable<string> Commands(Dialect dialect, MachineProfile profile, PatternBlock block, double clear) =>
    [
        .. Height(dialect, profile, clear),
        .. Texts(dialect.Commands(
            Verb.MoveLevel,
            ("x", block.Start.X + profile.Bed.ControllerOriginX), ("y", block.Start.Y + profile.Bed.ControllerOriginY), ("feed", profile.Travel.TravelFeedMmPerMin))),
        .. Height(dialect, profile, block.HeightMm),
        .. block.Lines.SelectMany(line => Texts(dialect.Commands(
            Verb.LayLine,
            ("x", line.To.X + profile.Bed.ControllerOriginX), ("y", line.To.Y + profile.Bed.ControllerOriginY), ("filament", line.FilamentMm), ("feed", block.FeedMmPerMin)))),
        .. Height(dialect, profile, clear),
    ];

    private static IEnumerable<string> Height(Dialect dialect, MachineProfile profile, double z) =>
        Texts(dialect.Commands(Verb.MoveHeight, ("z", z), ("feed", profile.Travel.LiftFeedMmPerMin)));

    private static IEnumerable<string> Texts(ImmutableArray<Command> commands) => commands.Select(command => command.Text);

    private static void Append(StringBuilder file, IEnumerable<string> lines) => lines.ToList().ForEach(line => file.Append(line).Append('\n'));

    /// <summary>A remark is one line of printable ASCII: a controller reads it too.</summary>
    private static void Remark(StringBuilder file, PatternWords words, string remark) =>
        file.Append(words.Comment).Append(' ').Append([.. remark.Select(letter => letter is >= ' ' and <= '~' ? letter : '?')]).Append('\n');

    private static void CheckHeat(MachineProfile profile, PatternHeat heat)
    {
        if (!(heat.NozzleCelsius >= GuardLimits.LeastLayingCelsius && heat.NozzleCelsius <= profile.Heat.NozzleCapCelsius))
        {
            throw new HeatRefusedException("nozzle", heat.NozzleCelsius, profile.Heat.NozzleCapCelsius);
        }

        if (!(heat.BedCelsius >= 0 && heat.BedCelsius <= profile.Heat.BedCapCelsius))
        {
            throw new HeatRefusedException("bed", heat.BedCelsius, profile.Heat.BedCapCelsius);
        }
    }

    private static void Check(MachineProfile profile, PatternBlock block)
    {
        ReachableArea reach = ReachableArea.ForNozzle(profile);
        BedRectangle area = profile.Bed.Printable.Inset(-GuardLimits.RoundingMm);
        if (!block.Lines.Select(line => line.To).Prepend(block.Start).All(place => area.Contains(place) && reach.CanTouch(place)))
        {
            throw new ArgumentException($"The patch {block.Remark} leads out of the printable area or too near to a clip; no file was written.", nameof(block));
        }

        if (!(block.HeightMm >= (profile.FirstLayer.HeightMm / 2) - GuardLimits.RoundingMm && block.HeightMm <= (2 * profile.FirstLayer.HeightMm) + GuardLimits.RoundingMm))
        {
            throw new ArgumentException($"The patch {block.Remark} is lower than half the layer or higher than twice; no file was written.", nameof(block));
        }
    }
}
