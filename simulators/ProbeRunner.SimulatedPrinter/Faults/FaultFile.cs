using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>Reads a fault plan from a TOML file, or from <c>key=value,key=value</c> on a command line.</summary>
public static class FaultFile
{
    /// <summary>Reads a plan.</summary>
    /// <param name="pathOrPairs">The path of a file, or pairs of the same keys with an equals sign between.</param>
    /// <exception cref="ScenarioException">It cannot be used.</exception>
    public static FaultPlan Load(string pathOrPairs)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(pathOrPairs);
        try
        {
            return pathOrPairs.Contains('=', StringComparison.Ordinal)
                ? Parse(pathOrPairs.Replace(',', '\n'), "--faults")
                : Parse(File.ReadAllText(pathOrPairs), pathOrPairs);
        }
        catch (Exception missing) when (missing is IOException or UnauthorizedAccessException)
        {
            throw new ScenarioException($"{pathOrPairs}: there is no such file that can be read; a file or key=value,key=value is accepted");
        }
    }

    /// <summary>Reads a plan from a text.</summary>
    /// <exception cref="ScenarioException">It cannot be used.</exception>
    public static FaultPlan Parse(string text, string name)
    {
        var values = new TomlValues();
        values.Add(text, name);
        var keys = new ScenarioReader(values);
        var otherwise = FaultPlan.None;
        var plan = new FaultPlan
        {
            Seed = (ulong)keys.Whole("seed", 0, int.MaxValue, 1),
            BadByteToController = keys.Number("bad_byte_to_controller", 0, 1, 0),
            BadByteFromController = keys.Number("bad_byte_from_controller", 0, 1, 0),
            LostFromController = keys.Number("lost_from_controller", 0, 1, 0),
            DoubledFromController = keys.Number("doubled_from_controller", 0, 1, 0),
            LateFromController = keys.Number("late_from_controller", 0, 1, 0),
            LateSeconds = keys.Number("late_seconds", 0, 3600, otherwise.LateSeconds),
            SplitFromController = keys.Number("split_from_controller", 0, 1, 0),
            ResetAtMotion = keys.Whole("reset_at_motion", 0, int.MaxValue, 0),
            LosesBanner = keys.Flag("loses_banner", false),
            PullCableAtMotion = keys.Whole("pull_cable_at_motion", 0, int.MaxValue, 0),
            PullCableAtLine = keys.Whole("pull_cable_at_line", 0, int.MaxValue, 0),
            SilentFromLine = keys.Whole("silent_from_line", 0, int.MaxValue, 0),
            SilentSeconds = keys.Number("silent_seconds", 0, 86_400, otherwise.SilentSeconds),
            DefectFromTouch = keys.Whole("defect_from_touch", 0, int.MaxValue, 0),
            Defect = keys.OneOf("defect", otherwise.Defect, DefectWords.All),
        };
        keys.Finish();
        return plan;
    }
}
