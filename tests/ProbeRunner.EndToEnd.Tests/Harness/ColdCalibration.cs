namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>
/// A calibration that heats nothing. A heated machine is asked for its temperatures by the clock, so how often, and how far the bed has grown by the next
/// touch, differs from run to run; a cold one gives the same readings every time.
/// </summary>
internal static class ColdCalibration
{
    private const string Script = """
        title = "Calibrate cold"
        purpose = "Readings that don't depend on the clock."
        [[step]]
        do = "preflight"
        [[step]]
        do = "first-lift"
        [[step]]
        do = "home-xy"
        [[step]]
        do = "self-check"
        cycles = 2
        [[step]]
        do = "first-home-z"
        [[step]]
        do = "series"
        [[step]]
        do = "step-down"
        takes = 2
        cold = true
        [[step]]
        do = "grid"
        columns = 4
        rows = 4
        [[step]]
        do = "mesh"
        any_conditions = true
        [[step]]
        do = "store"
        [[step]]
        do = "verify"
        [[step]]
        do = "conclusions"

        """;

    /// <summary>Writes the script to a file.</summary>
    /// <returns>The file's path.</returns>
    public static string WriteTo(string path)
    {
        File.WriteAllText(path, Script);
        return path;
    }
}
