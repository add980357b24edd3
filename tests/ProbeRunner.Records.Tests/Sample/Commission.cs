using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Tests.Sample;

/// <summary>A whole commission run of an invented bench machine, its numbers drawn from a made-up bed; every conclusion there is.</summary>
internal static class Commission
{
    private const double Sigma = 0.0032;
    private static readonly BedRectangle Area = new(10, 10, 197, 226);

    public static RunRecord Record => RunReader.Read(SampleRun.Header(), Journal().Entries);

    /// <summary>The same run, stopped after the series.</summary>
    public static RunRecord Stopped => RunReader.Read(
        SampleRun.Header(),
        UpToSeries(new SampleRun(), new Random(7))
            .Interrupted("stop", "Stopped with Ctrl-C.")
            .End(new RunOutcome.Stopped(
                "The nozzle was lifted and parked, and the heaters are off. Resume the run when you are ready.",
                new StepVerdict(VerdictWord.Undecided, 0, "only the probe was looked at before the run was stopped.")))
            .Entries);

    public static SampleRun Journal()
    {
        var chance = new Random(7);
        SampleRun run = UpToSeries(new SampleRun(), chance);
        StepDown(run, chance);
        Capture(run, chance);
        Mesh(run);
        Settings(run);
        run.Step("verify", "Proof of the offset").Wait(40).Conclude(new VerifyConclusion(Fit(0.97, "paper dragged within 0.008 mm of where the offset promised."), [], 0.102, 0.002));
        return run.End(new RunOutcome.Completed(
            "All twelve steps were done. The machine is parked and its heaters are off.",
            Fit(0.96, "the first layer will lie between 0.17 and 0.23 mm everywhere the nozzle can print.")));
    }

    public static StepVerdict Fit(double confidence, string reason) => new(VerdictWord.Fit, confidence, reason);

    private static SampleRun UpToSeries(SampleRun run, Random chance)
    {
        run.Session();
        run.Step("preflight", "Preflight")
            .Ask("preflight.bed-clean", "Is the bed clean and empty, with the sheet you print on?", "yes")
            .Ask("preflight.switch", "Is the mains switch within reach?", "yes")
            .Conclude(new PreflightConclusion(Fit(1, "the machine answers and its axes move as asked."), [], Controller, SettingsAt("0.000 mm"), new ProbeOffset(-38, -9, 0), null));
        run.Step("first-lift", "Bounded lift").Wait(5).Conclude(new PlainConclusion(Fit(1, "lifted by 5 mm."), []));
        run.Step("home", "Home X and Y").Wait(22).Conclude(new PlainConclusion(Fit(1, "homed."), []));
        run.Step("self-check", "Probe self-check in the air").Wait(31)
            .Conclude(new SelfCheckConclusion(Fit(0.99, "no fault in ten cycles, and a trigger stops the descent."), [], 10, 0, true));
        run.Step("series", "Repeatability series");
        Reading[] readings = [.. Enumerable.Range(0, 14).Select(number => run.At(120, 120, 0.014 + (Sigma * Normal(chance)), number == 8))];
        run.Touches(readings);
        return run.Conclude(new SeriesConclusion(
            Fit(0.95, "the probe repeats within 0.003 mm; up to 0.005 mm is good."),
            [],
            new BedPoint(120, 120),
            [.. readings],
            readings.Average(reading => reading.Z),
            Math.Sqrt(readings.Sum(reading => Math.Pow(reading.Z - readings.Average(other => other.Z), 2)) / 13),
            0.0023,
            0.0051,
            0.95));
    }

    private static void StepDown(SampleRun run, Random chance)
    {
        run.Step("step-down", "Paper-drag step-down");
        List<FeltHeight> answers = [];
        for (int take = 1; take <= 3; take++)
        {
            for (double height = -1.9 - (0.01 * take); ; height = Math.Round(height - (height < -2.02 ? 0.01 : 0.04), 3))
            {
                double threshold = -2.063 + (0.006 * Normal(chance));
                string felt = height > threshold ? "free" : height > threshold - 0.05 ? "drags" : "pinched";
                answers.Add(new FeltHeight(take, height, felt));
                run.Ask("step-down.paper", "How does the paper move?", felt);
                if (felt != "free" && height < -2.085)
                {
                    break;
                }
            }
        }

        run.Conclude(new StepDownConclusion(
            Fit(0.95, "three takes agree within 0.009 mm."),
            [new Finding("offset.paper", "The paper decides most of what is not known about the offset.", 0.006, "", 0.8, "Its thickness is known to 0.005 mm only; the touches add 0.001 mm.", "Measure the sheet with a micrometer and set paper.thickness, or use a feeler gauge.")],
            new BedPoint(120, 120),
            [.. answers],
            0.0139,
            -2.0631,
            0.1,
            -2.1770,
            0.0062,
            [new BudgetLine("paper thickness", 0.0050, 0.65), new BudgetLine("drag threshold (three takes)", 0.0034, 0.30), new BudgetLine("touches", 0.0009, 0.02), new BudgetLine("step of Z", 0.0011, 0.03)],
            [-2.1742, -2.1801, -2.1766],
            false,
            "Nozzle 140 °C, bed 60 °C, soaked 15 min, smooth steel sheet."));
    }

    private static void Capture(SampleRun run, Random chance)
    {
        run.Step("grid", "Grid capture").Interrupted("hold", "Held at the person’s request.").Wait(90).Interrupted("resumed", "");
        List<Reading> readings = [];
        for (int row = 0; row < 9; row++)
        {
            for (int column = 0; column < 9; column++)
            {
                double x = Area.MinX + ((Area.MaxX - Area.MinX) * column / 8);
                double y = Area.MinY + ((Area.MaxY - Area.MinY) * row / 8);
                Reading reading = run.At(x, y, 0.0139 + Bed(x, y) + (Sigma * Normal(chance)), row == 6 && column == 2);
                readings.Add(reading);
                run.Touch(reading);
            }
        }

        const int columns = 31, rows = 31;
        ImmutableArray<double> heights = [.. Enumerable.Range(0, columns * rows).Select(index => Bed(
            Area.MinX + ((Area.MaxX - Area.MinX) * (index % columns) / (columns - 1)),
            Area.MinY + ((Area.MaxY - Area.MinY) * (index / columns) / (rows - 1))))];
        run.Conclude(new CaptureConclusion(
            Fit(0.93, "the map is known to 0.004 mm and the bed is flat enough for its mesh."),
            [
                new Finding("bed.tilt", "The bed is higher at the back right.", 0.062, "back right screw", 0.97, "A plane through 81 readings rises 0.088 mm from left to right and 0.051 mm from front to back.", "Turn the back right screw counter-clockwise by about 30 degrees, then capture again."),
                new Finding("bed.unreached", "The right edge was not measured.", null, "X 197 to 240", 0.99, "The probe sits 38 mm left of the nozzle and cannot reach there.", "Check the first layer there by eye."),
            ],
            Area, 9, 9, [.. readings],
            new SurfaceMap(Area, columns, rows, heights, [.. heights.Select((_, index) => 0.0031 + (0.002 * (index % columns) / columns))]),
            0.088, 0.051, 0.071, 0.019,
            "Nozzle 140 °C, bed 60 °C, soaked 15 min, smooth steel sheet."));
    }

    private static void Mesh(SampleRun run)
    {
        var area = new BedRectangle(20, 20, 200, 220);
        ImmutableArray<double> wanted = [.. Enumerable.Range(0, 25).Select(index => Math.Round(Bed(20 + (45 * (index % 5)), 20 + (50 * (index / 5))), 3))];
        run.Step("mesh", "Correction mesh").Wait(18).Conclude(new MeshConclusion(
            Fit(0.94, "what remains after the mesh is small against the gap’s limits."),
            [],
            new MeshNodes(area, 5, 5, wanted),
            new MeshNodes(area, 5, 5, wanted.SetItem(17, wanted[17] + 0.01)),
            0.0058,
            0.0163,
            string.Empty));
    }

    private static void Settings(SampleRun run) => run.Step("store", "Store settings")
        .Changed("probe offset Z", "0.000 mm", "-2.177 mm")
        .Wait(4)
        .Conclude(new SettingsConclusion(
            Fit(1, "stored, and read back as stored."),
            [],
            SettingsAt("0.000 mm"),
            SettingsAt("-2.177 mm"),
            [new ChangedSetting("probe offset Z", "0.000 mm", "-2.177 mm"), new ChangedSetting("correction mesh", "none", "5 x 5 nodes")],
            "M420 S1 ; use the stored mesh"));

    private static ControllerIdentity Controller => new(
        "Finchware 3.2", "Wren 240", "WR-0173", new ControllerAbilities(true, true, true, true, true, true), ImmutableSortedDictionary<string, string>.Empty);

    private static SettingsReport SettingsAt(string offset) => new(
        ImmutableSortedDictionary<string, string>.Empty.Add("probe offset Z", offset).Add("steps per mm Z", "400 per mm").Add("idle release", "120 s"), []);

    private static double Bed(double x, double y)
    {
        double u = (x - 120) / 120, v = (y - 120) / 120;
        return (0.055 * u) + (0.03 * v) - (0.05 * u * u) + (0.025 * v * v) + (0.03 * u * v)
            + (0.045 * Math.Exp(-(((x - 60) * (x - 60)) + ((y - 170) * (y - 170))) / 900));
    }

    private static double Normal(Random chance) =>
        Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
