using CsCheck;
using ProbeRunner.Metrology.Conformity;
using ProbeRunner.Metrology.Gaps;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Metrology.Meshes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Tests.Budgets;

namespace ProbeRunner.Metrology.Tests.Gaps;

public class GapModelTests
{
    private static readonly Limits Window = Limits.Between(0.14, 0.25);

    private static readonly IGapEffect[] Even =
    [
        EvenEffect.ZOffset(0.003, 20), EvenEffect.Probe(0.002, 10, 9), EvenEffect.Datum(0.004, 4, 14), EvenEffect.Paper(0.01), EvenEffect.Backlash(0.02),
    ];

    [Fact]
    public void A_gap_is_the_set_height_with_the_uncertainties_added_in_squares()
    {
        // Common practice: root sum of squares, each term by hand.
        double variance = (0.003 * 0.003) + (0.002 * 0.002 / 10) + (0.004 * 0.004 * 1.25) + (0.01 * 0.01 / 3) + (0.01 * 0.01 / 3);
        GapAssessment gap = At(Even, 10, 20);

        Close.Relative(0.2, gap.ExpectedGapMm, 1e-12);
        Close.Relative(Math.Sqrt(variance), gap.StandardUncertaintyMm, 1e-12);
        Assert.Equal("paper", gap.Dominating.Name);
        Close.Absolute(1, gap.Budget.Shares.Sum(share => share.Share), 1e-12);
    }

    [Fact]
    public void A_far_corner_that_the_mesh_misses_is_named_as_the_cause()
    {
        var interpolation = new InterpolationResidual((_, _) => 0, (x, y) => new SurfaceEstimate(x > 200 && y > 200 ? 0.09 : 0, 0.005));
        GapAssessment middle = At([.. Even, interpolation], 110, 110);
        GapAssessment corner = At([.. Even, interpolation], 215, 215);

        Assert.True(middle.InsideWindow.Inside > 0.98);
        Assert.True(corner.InsideWindow.Inside < 0.05);
        Assert.True(corner.InsideWindow.BelowLower > 0.95);
        Assert.Equal("interpolation", corner.Dominating.Name);
    }

    [Fact]
    public void A_map_names_its_worst_place_and_how_much_of_the_bed_is_good()
    {
        var interpolation = new InterpolationResidual((_, _) => 0, (x, y) => new SurfaceEstimate(x > 200 && y > 200 ? 0.09 : 0, 0.005));
        (double, double)[] places = [.. Enumerable.Range(0, 100).Select(i => (25.0 * (i % 10), 25.0 * (i / 10)))];
        GapMap map = GapMap.Of(new GapModel(0.2, Window, [.. Even, interpolation]), places).Value;

        Assert.Equal((225, 225), (map.Worst.XMm, map.Worst.YMm));
        Assert.Equal(0.99, map.PartInside(0.95), 12);
        Assert.Equal(RefusalKind.TooFew, GapMap.Of(new GapModel(0.2, Window, Even), []).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, GapMap.Of(new GapModel(-1, Window, Even), places).Refusal!.Kind);
    }

    [Fact]
    public void A_mesh_that_smooths_over_a_bump_squeezes_the_gap_there()
    {
        // A capture over a bed with a bump between the nodes of a 3 x 3 mesh; the mesh sampled at its nodes misses it.
        static double Bed(double x, double y) => 0.12 * Math.Exp(-(((x - 55) * (x - 55)) + ((y - 55) * (y - 55))) / (2 * 18 * 18));
        CaptureReading[] readings = [.. Enumerable.Range(0, 144).Select(i =>
            new CaptureReading(20.0 * (i % 12), 20.0 * (i / 12), Bed(20 * (i % 12), 20 * (i / 12)), i, 0))];
        SurfacePosterior surface = SurfaceModel.Fit(readings).Value;
        CorrectionMesh mesh = CorrectionMesh.Sampled(new MeshGrid(0, 0, 220, 220, 3, 3), Bed);
        InterpolationResidual residual = InterpolationResidual.Of(mesh, EdgeRule.Clamped, surface, 110, 110);

        Close.Absolute(-0.12, residual.At(55, 55).ExpectedMm, 0.015);
        Close.Absolute(0, residual.At(110, 110).ExpectedMm, 1e-12);
        Assert.True(residual.At(55, 55).StandardUncertaintyMm is > 0 and < 0.02);
    }

    [Fact]
    public void A_gantry_that_leans_opens_the_gap_away_from_the_place_of_the_offset()
    {
        // Offset found with the nozzle at X 110; probe 40 mm left of it: the reading under X 210 is taken with the nozzle at 250.
        var lean = new LeanAlongX(0.0005, 0.0001, OffsetNozzleXMm: 110, ProbeOffsetXMm: -40, Corrected: false);

        Close.Relative(0.0005 * 140, lean.At(210, 0).ExpectedMm, 1e-12);
        Close.Relative(0.0001 * 140, lean.At(210, 0).StandardUncertaintyMm, 1e-12);
        Assert.Equal(0, lean.At(70, 0).ExpectedMm);
        Close.Relative(0.0001 * 140, (lean with { Corrected = true }).At(210, 0).StandardUncertaintyMm, 1e-12);
        Assert.Equal(0, (lean with { Corrected = true }).At(210, 0).ExpectedMm);
        Assert.Equal("lean along X", At([.. Even, lean], 210, 100).Dominating.Name);
    }

    [Fact]
    public void A_reading_taken_through_a_leaning_gantry_gives_the_gap_that_the_model_expects()
    {
        // The frames of the design: z = bed + trigger height at the nozzle's X; offset = minus the trigger height where it was found.
        const double Slope = 0.0004;
        double TriggerHeight(double nozzleX) => 1.5 + (Slope * nozzleX);
        const double OffsetX = 100;
        const double ProbeOffsetX = -30;
        for (double x = 0; x <= 200; x += 25)
        {
            double mesh = TriggerHeight(x - ProbeOffsetX);
            double nozzleAboveFlatBed = 0.2 + mesh - TriggerHeight(OffsetX);
            GapTerm term = new LeanAlongX(Slope, 0, OffsetX, ProbeOffsetX, false).At(x, 0);
            Close.Absolute(nozzleAboveFlatBed, 0.2 + term.ExpectedMm, 1e-12);
        }
    }

    [Fact]
    public void A_warmer_machine_moves_the_gap_by_its_coefficient()
    {
        // Callister, table B.6: aluminium 23.6e-6/K; 10 mm by 40 K is 9.44 um.
        GapTerm term = new TemperatureChange(23.6e-6 * 10, 2.36e-5, 40, 2).At(0, 0);

        Close.Relative(9.44e-3, term.ExpectedMm, 1e-9);
        Close.Relative(Math.Sqrt(Math.Pow(40 * 2.36e-5, 2) + Math.Pow(2.36e-4 * 2, 2)), term.StandardUncertaintyMm, 1e-12);
    }

    [Fact]
    public void The_gap_never_depends_on_the_order_of_effects() => Gen.Shuffle(Even).Sample(shuffled =>
    {
        Close.Relative(At(Even, 0, 0).StandardUncertaintyMm, At(shuffled, 0, 0).StandardUncertaintyMm, 1e-12);
        Assert.Equal(At(Even, 0, 0).Dominating.Name == "paper", At(shuffled, 0, 0).Dominating.StandardUncertaintyMm > 0.0057);
    });

    [Fact]
    public void Another_effect_never_makes_the_gap_more_certain() => Gen.Double[0, 0.1].Sample(sigma => Assert.True(
        At([.. Even, new EvenEffect(new GapTerm("one more", 0, sigma))], 0, 0).StandardUncertaintyMm >= At(Even, 0, 0).StandardUncertaintyMm));

    [Fact]
    public void A_step_of_the_drive_counts_as_half_of_it_either_way() =>
        Close.Relative(0.0025 / Math.Sqrt(3), EvenEffect.ZStep(0.005).At(0, 0).StandardUncertaintyMm, 1e-12);

    [Fact]
    public void Bad_inputs_are_refused()
    {
        Assert.Equal(RefusalKind.OutOfRange, new GapModel(0, Window, Even).At(0, 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, new GapModel(0.2, Window, Even).At(double.NaN, 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, new GapModel(0.2, Window, []).At(0, 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, new GapModel(0.2, Limits.Between(0.3, 0.1), Even).At(0, 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, new GapModel(0.2, Window, [EvenEffect.Paper(-1)]).At(0, 0).Refusal!.Kind);
        var blind = new InterpolationResidual((_, _) => double.NaN, (_, _) => default);
        Assert.Equal(RefusalKind.NotFinite, new GapModel(0.2, Window, [blind]).At(0, 0).Refusal!.Kind);
        Assert.Throws<ArgumentOutOfRangeException>(() => EvenEffect.Probe(0.01, 0));
    }

    private static GapAssessment At(IReadOnlyList<IGapEffect> effects, double xMm, double yMm) =>
        new GapModel(0.2, Window, effects).At(xMm, yMm).Value;
}
