using ProbeRunner.Campaigns;
using ProbeRunner.EndToEnd.Tests.Harness;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Records.Runs;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>
/// One calibration with every step that a good machine with one Z drive needs, by process over a pseudo-terminal with the simulated person, and
/// what was really so at the moments that matter; then its settings put back. It runs once for all tests that look at it.
/// </summary>
public sealed class WholeCalibration : IAsyncLifetime
{
    private static readonly string[] Steps =
    [
        "preflight", "heater-trial", "first-lift", "home-xy", "self-check", "first-home-z", "axis-moves", "halt-trial", "touch-report-check", "probe-offset",
        "home", "series", "gantry-level", "step-down", "grid",
        "mesh", "store", "verify", "first-layer", "store", "verify", "conclusions",
    ];

    private readonly List<(double TriggerDistance, double Contact)> felt = [];
    private Bench bench = null!;

    internal int ExitCode { get; private set; }

    internal string Said { get; private set; } = "";

    /// <summary>The report that the calibration left.</summary>
    internal string Report { get; private set; } = "";

    internal RunRecord Record { get; private set; } = null!;

    internal Scenario Scenario { get; private set; } = null!;

    /// <summary>The machine when the calibration had ended and after its settings had been put back: Z offset live and stored.</summary>
    internal ((double Live, double Stored) Calibrated, (double Live, double Stored) Restored) Offsets { get; private set; }

    /// <summary>The controller's mesh when the calibration had ended, and after its settings had been put back.</summary>
    internal (double[] Calibrated, double[] Restored) Meshes { get; private set; }

    /// <summary>What the first layer's correction should have been, by the printable area as it was when each patch was looked at, mm.</summary>
    internal List<double> WantedCorrections { get; } = [];

    /// <summary>What the mesh's nodes should be by the hot bed: its height above that of the homing place, mm.</summary>
    internal double[] HotNodes { get; private set; } = [];

    internal Truth Truth { get; private set; } = null!;

    /// <summary>The true distance from nozzle to trigger, and the true Z of contact, beside each answer about the paper to questions of an id.</summary>
    internal IEnumerable<(double TriggerDistance, double Contact)> FeltAt(string id)
    {
        var asked = Record.Prompts.Where(prompt => prompt.Prompt.Id is PromptIds.StepDownPaper or PromptIds.VerifyPaper).Select(prompt => prompt.Prompt.Id).ToList();
        return asked.Zip(felt).Where(pair => pair.First == id).Select(pair => pair.Second);
    }

    public async Task InitializeAsync()
    {
        (bench, var printer) = Bench.StartHere(speed: "150");
        (Scenario, Truth) = (printer.Scenario, printer.Truth);
        var profile = new ProfileCatalogue([Path.Combine(AppContext.BaseDirectory, "profiles")]).Machine("wren-240");
        printer.Asked = (question, truth) => WriteDown(question, truth, profile);
        var script = bench.File("whole.toml");
        await File.WriteAllTextAsync(script, "title = \"Everything\"\n" + string.Concat(Steps.Select(step => $"[[step]]\ndo = \"{step}\"\n")));

        await using var run = bench.Begin(
            script,
            "--set", "step-down.takes=2", "--set", "step-down.soak_minutes=8", "--set", "grid.columns=6", "--set", "grid.rows=6", "--set", "mesh.hot_soak_minutes=4");
        ExitCode = await run.ExitAsync();
        Said = $"{string.Join('\n', JsonEvents.Named(run.Output, "verdict"))}\n{run.Errors}\n{string.Join('\n', printer.Faults)}";
        Record = bench.RecordOf(run);
        Report = await File.ReadAllTextAsync(JsonEvents.Named(run.Output, "run-ended").Single().GetProperty("report").GetString()!);
        var calibrated = (Truth.LiveOffsetZ, Truth.StoredOffsetZ);
        double[] mesh = [.. Truth.Mesh];

        await using var restore = bench.Restore(Record.Header.RunId);
        Said += $"\nrestore: {await restore.ExitAsync()} {restore.Errors}";
        Offsets = (calibrated, (Truth.LiveOffsetZ, Truth.StoredOffsetZ));
        Meshes = (mesh, [.. Truth.Mesh]);
    }

    public async Task DisposeAsync() => await bench.DisposeAsync();

    internal T Of<T>()
        where T : StepConclusion => Record.Conclusion<T>() ?? throw new InvalidOperationException($"There is no {typeof(T).Name}. The run said:\n{Said}");

    private static IEnumerable<(double X, double Y)> NodesOf(MeshProfile mesh) => Enumerable.Range(0, mesh.Columns * mesh.Rows).Select(node => (
        mesh.Area.MinX + ((mesh.Area.MaxX - mesh.Area.MinX) * (node % mesh.Columns) / (mesh.Columns - 1)),
        mesh.Area.MinY + ((mesh.Area.MaxY - mesh.Area.MinY) * (node / mesh.Columns) / (mesh.Rows - 1))));

    private void WriteDown(string question, Truth truth, MachineProfile profile)
    {
        switch (question.Split(' '))
        {
            case ["feel"]:
                felt.Add((truth.TriggerDistanceAt(profile.Travel.HomingPlace.X, profile.Travel.HomingPlace.Y), truth.ContactHeightAt(profile.Travel.HomingPlace.X, profile.Travel.HomingPlace.Y)));
                break;
            case ["look", "patch", ..]:
                WantedCorrections.Add(TrueGap.WantedMm(truth, profile, Scenario.Travel));
                if (HotNodes.Length == 0)
                {
                    var atHome = truth.BedHeightAt(profile.Travel.HomingPlace.X, profile.Travel.HomingPlace.Y);
                    HotNodes = [.. NodesOf(profile.Mesh).Select(node => truth.BedHeightAt(node.X, node.Y) - atHome)];
                }

                break;
        }
    }
}
