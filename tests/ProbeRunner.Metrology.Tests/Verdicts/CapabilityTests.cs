using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Verdicts;
using static ProbeRunner.Metrology.Tests.Series.SeriesData;

namespace ProbeRunner.Metrology.Tests.Verdicts;

// Cg = 0.2 T / (6 s), Cgk = (0.1 T - |bias|) / (3 s): ISO 22514-7, VDA 5 by an article [R]; values [C] R 4.2.2.
public sealed class CapabilityTests
{
    private static readonly double[] Ten = [.001, -.002, 0, .003, -.001, .002, 0, -.001, .001, .002];

    [Fact]
    public void Indices_of_ten_hand_checkable_readings_agree()
    {
        Capability study = Capability.Of(Ten, 0, 0.1, new CapabilityConstants(FewestReadings: 10)).Value;
        Near(2.10818510678, study.Cg, 1e-11);
        Near(2.00277585144, study.Cgk, 1e-11);
        Near(0.0005, study.Bias, 1e-12);
        Near(1.000, study.BiasT, 1e-12);
        Near(0.0630874393, study.SmallestTolerance, 1e-9);
        Assert.True(study.Passes);
    }

    [Fact]
    public void Indices_of_Mavro_would_pass_and_are_refused_because_it_drifts()
    {
        var constants = new CapabilityConstants();
        Capability figures = Capability.Figures(Mavro, 2.0018, 0.02, constants).Value;
        Near(1.553554485, figures.Cg, 1e-9);
        Near(1.510054960, figures.Cgk, 1e-9);
        Near(0.922764286, figures.BiasT, 1e-9);
        Near(0.0171220258, figures.SmallestTolerance, 1e-8);
        Assert.Equal(RefusalKind.AssumptionBroken, Capability.Of(Mavro, 2.0018, 0.02, constants).Refusal!.Kind);
    }

    [Fact]
    public void Indices_of_Michelson_agree()
    {
        Capability figures = Capability.Figures(Michelson, 299.7924, 5, new CapabilityConstants()).Value;
        Near(2.109422998, figures.Cg, 1e-9);
        Near(1.856292238, figures.Cgk, 1e-9);
        Near(7.593922793, figures.BiasT, 1e-9);
    }

    [Fact]
    public void What_has_no_capability_is_refused_with_the_reason()
    {
        double[] alternating = [.. Enumerable.Range(0, 40).Select(i => i % 2 == 0 ? 0.001 : -0.001)];
        Assert.Equal(RefusalKind.AssumptionBroken, Capability.Of(alternating, 0, 0.1).Refusal!.Kind);
        Assert.Equal(RefusalKind.TooFew, Capability.Of(Ten, 0, 0.1).Refusal!.Kind);
        Assert.Equal(RefusalKind.Constant, Capability.Of([.. Enumerable.Repeat(1.0, 30)], 1, 0.1).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, Capability.Of(Ten, 0, 0, new CapabilityConstants(FewestReadings: 5)).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, Capability.Of(Ten, double.NaN, 1, new CapabilityConstants(FewestReadings: 5)).Refusal!.Kind);
    }
}
