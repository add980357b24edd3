using ProbeRunner.Benchmarks.BedSuite;
using ProbeRunner.Campaigns;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// The guided capture as a person gets it: the step, the engine, the printer, the wire and a simulated machine whose bed is one of the suite's.
/// The probe's repeatability is what a series of ten readings says, as there; every touch of the capture counts. Errors as in <see cref="MapCampaign"/>:
/// after a bilinear 15 x 15 mesh, once up to a constant and once relative to the homing place, which is what a print feels.
/// </summary>
internal static class GuidedCampaign
{
    private const int MeshSide = 15;
    private const int SeriesReadings = 10;
    private const double SidesOf95 = 1.96;

    /// <summary>Runs the beds from <paramref name="firstBed"/> on; those of the suite begin at 1000.</summary>
    internal static void Run(TextWriter output, int beds, int firstBed)
    {
        SuiteBed[] suite = [.. Suite.Beds(firstBed, beds)];
        double[] targets = [0.03, 0.02, 0.015];
        output.WriteLine("target  touches mean  median  beds met  said so but missed  of plain  met from home  median, 95 % of the error from home  95 % intervals from home hold");
        foreach ((double target, int plain) in targets.Zip(MapCampaign.PlainTouches(suite, targets)))
        {
            Trial[] trials = [.. suite.Select((bed, number) => Capture(bed, firstBed + number, target))];
            double mean = trials.Average(trial => trial.Touches);
            double[] fromHome = [.. trials.Select(trial => trial.FromHome).Order()];
            output.WriteLine(FormattableString.Invariant(
                $"{target,6:0.000} {mean,13:0.0} {trials.Select(trial => trial.Touches).Order().ElementAt(beds / 2),7} {Share(trial => trial.Error <= target),9:P1} {trials.Count(trial => trial.Met && trial.Error > target),19} {mean / plain,9:0.000} {Share(trial => trial.FromHome <= target),14:P1} {fromHome[beds / 2],8:0.0000} {fromHome[(int)(0.95 * (beds - 1))],27:0.0000} {trials.Average(trial => trial.Held),30:P1}"));

            double Share(Func<Trial, bool> isSo) => trials.Count(isSo) / (double)beds;
        }
    }

    private static Trial Capture(SuiteBed bed, int seed, double target) => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, ScenarioOf(bed, seed), ProfileOf(bed));
        var journal = new PlainJournal((ulong)seed);
        RunScript script = MachineBench.Steps(
            "do = \"preflight\"\nquestions = false", "do = \"first-lift\"\nconfirm = false", "home",
            FormattableString.Invariant($"do = \"guided-capture\"\ntarget_rms_mm = {target}\nmost_touches = 160\ntouch_sigma_mm = {bed.Noise * new Chance(seed + 555_555).DeviationOf(SeriesReadings)}"));
        await new RunEngine(machine.Printer, new Absent(), journal, script, time, new RunOptions("campaign", Simulated: true)).RunAsync();
        CaptureConclusion capture = journal.Conclusion<CaptureConclusion>() ?? throw new InvalidOperationException("No map.");
        var map = new Metrology.Meshes.SurfaceMap(
            Metrology.Meshes.SurfaceMap.Evenly(0, bed.Side, capture.Map.Columns), Metrology.Meshes.SurfaceMap.Evenly(0, bed.Side, capture.Map.Rows), capture.Map.Heights);
        CorrectionMesh mesh = MeshFit.LeastSquares(new MeshGrid(0, 0, bed.Side, bed.Side, MeshSide, MeshSide), map);
        double level = bed.Truth.Heights.Average() - MeshLevel(mesh, bed), home = bed.HeightAt(bed.Side / 2, bed.Side / 2);
        return new Trial(capture.Details!.Touches, ErrorAbove(level), ErrorAbove(home), Held(map, capture.Map.Uncertainties, bed, home), capture.Details.Goal!.Met);

        double ErrorAbove(double zero) => MeshError.Of((x, y) => mesh.HeightAt(x, y, EdgeRule.Clamped) + zero, bed.Truth).Rms;
    });

    /// <summary>Part of the map at which the truth, relative to the homing place, lies in the interval of 95 %.</summary>
    private static double Held(Metrology.Meshes.SurfaceMap map, IReadOnlyList<double> deviations, SuiteBed bed, double home) => map.Heights
        .Select((height, node) => Math.Abs(bed.HeightAt(map.Xs[node % map.Xs.Length], map.Ys[node / map.Xs.Length]) - home - height) <= SidesOf95 * deviations[node] ? 1.0 : 0).Average();

    private static double MeshLevel(CorrectionMesh mesh, SuiteBed bed) =>
        Metrology.Meshes.SurfaceMap.Of(bed.Box, bed.Truth.Xs.Length, bed.Truth.Ys.Length, (x, y) => mesh.HeightAt(x, y, EdgeRule.Clamped)).Heights.Average();

    /// <summary>One bed: errors in mm rms, what of the map its intervals hold, 0 to 1, and whether the step called its target met.</summary>
    private sealed record Trial(int Touches, double Error, double FromHome, double Held, bool Met);

    /// <summary>A machine that reaches all of the bed, its probe at the nozzle's place: as the suite's own figures are taken.</summary>
    private static Scenario ScenarioOf(SuiteBed bed, int seed)
    {
        Scenario machine = ScenarioFile.Load("good");
        return machine with
        {
            Seed = (ulong)seed,
            Bed = new BedScenario { WidthMm = bed.Side, DepthMm = bed.Side, FurtherHeight = bed.HeightAt },
            Travel = machine.Travel with { MaxX = bed.Side, MaxY = bed.Side, HomingX = bed.Side / 2, HomingY = bed.Side / 2 },
            Probe = machine.Probe with { OffsetX = 0, OffsetY = 0, TouchSdMm = bed.Noise, ExtensionSdMm = 0, OutlierShare = 0 },
            Controller = machine.Controller with { StoredOffsetX = 0, StoredOffsetY = 0 },
            Screws = [],
        };
    }

    private static MachineProfile ProfileOf(SuiteBed bed)
    {
        MachineProfile profile = CampaignMachine.Profile("wren-240");
        var whole = new BedRectangle(0, 0, bed.Side, bed.Side);
        return profile with
        {
            Bed = profile.Bed with { WidthMm = bed.Side, DepthMm = bed.Side, Printable = whole, Clips = [] },
            Travel = profile.Travel with { Nozzle = whole, HomingPlace = new BedPoint(bed.Side / 2, bed.Side / 2) },
            Probe = profile.Probe with { Offset = new ProbeOffset(0, 0, profile.Probe.Offset.Z), EdgeMarginMm = 0 },
            Screws = [],
        };
    }

    private sealed class Absent : IOperator
    {
        public bool IsPresent => false;

        public Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel) => Task.FromResult(new Answer(Answer.Continue));
    }
}
