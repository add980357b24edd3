using CsCheck;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Screws;

namespace ProbeRunner.Metrology.Tests.Screws;

public sealed class ScrewLevellingTests
{
    [Theory] // ISO 261/262 coarse pitches; rise = pitch times turns
    [InlineData(0.5, 0.25, 0.125)]
    [InlineData(0.7, 0.25, 0.175)]
    [InlineData(0.8, 0.25, 0.200)]
    [InlineData(0.5, 0.125, 0.0625)]
    [InlineData(0.7, 0.125, 0.0875)]
    [InlineData(0.8, 0.125, 0.100)]
    [InlineData(0.5, 1.0 / 6, 0.083333)]
    [InlineData(0.7, 1.0 / 6, 0.116667)]
    [InlineData(0.8, 1.0 / 6, 0.133333)]
    [InlineData(0.5, 1.0 / 360, 1.38889e-3)]
    [InlineData(0.7, 1.0 / 360, 1.94444e-3)]
    [InlineData(0.8, 1.0 / 360, 2.22222e-3)]
    public void A_turn_raises_by_the_pitch(double pitch, double turns, double rise)
    {
        var screw = new AdjustingScrew("front left", 0, 0, pitch, ClockwiseRaises: true);

        Assert.Equal(rise, screw.RiseMm(turns), 1e-6);
        Assert.Equal(turns, screw.TurnsFor(rise), 1e-5);
        Assert.Equal(-rise, (screw with { ClockwiseRaises = false }).RiseMm(turns), 1e-6);
    }

    [Fact] // by hand: 0.175 mm on an M4 thread is a quarter turn
    public void A_bed_high_on_the_right_is_lowered_there_and_raised_on_the_left()
    {
        ScrewPlan plan = ScrewLevelling.Plan(new Plane(0.35 / 170, 0, 1), Four(clockwiseRaises: false)).Value;

        Assert.Equal([-0.25, 0.25, -0.25, 0.25], plan.Turns.Select(t => Math.Round(t.ExactTurns, 12)));
        Assert.Equal([-0.25, 0.25, -0.25, 0.25], plan.Turns.Select(t => t.RoundedTurns));
        Assert.Equal(0, plan.RemainingRangeMm, 1e-12);
        Assert.Equal(0.35, plan.FoundRangeMm, 1e-12);
    }

    [Fact]
    public void A_fixed_screw_is_not_turned_and_the_others_come_to_it()
    {
        AdjustingScrew[] screws = Four(clockwiseRaises: true)[..3];
        ScrewPlan plan = ScrewLevelling.Plan(new Plane(0.0007, -0.0014, 0.2), screws, fixedScrew: 1, smallestTurn: 1.0 / 360).Value;

        Assert.Equal(0, plan.Turns[1].RoundedTurns);
        Assert.All(plan.Turns, t => Assert.Equal(plan.Turns[1].HeightMm, t.HeightMm + t.Screw.RiseMm(t.ExactTurns), 1e-12));
        Assert.InRange(plan.RemainingRangeMm, 0, 0.7 / 360);
    }

    [Fact]
    public void Rounding_leaves_at_most_one_step_between_the_screws() =>
        Gen.Select(Gen.Double[-0.005, 0.005], Gen.Double[-0.005, 0.005], Gen.Double[-1, 1], Gen.Int[3, 4]).Sample((a, b, c, count) =>
        {
            ScrewPlan plan = ScrewLevelling.Plan(new Plane(a, b, c), Four(true)[..count]).Value;
            Assert.InRange(plan.RemainingRangeMm, 0, (0.7 / 8) + 1e-12);
            Assert.InRange(plan.RemainingRangeMm, 0, plan.FoundRangeMm + 1e-12);
            Assert.Equal(0, plan.Turns.Sum(t => t.RemainingMm), 1e-9);
        });

    [Fact] // by hand: 0.04 mm up and down alternately
    public void The_twist_of_four_screws_is_what_alternates()
    {
        Assert.Equal(0.04, ScrewLevelling.Twist(Four(true), [1.04, 1.06, 0.96, 1.14]).Value, 1e-12);
        Assert.Equal(0, ScrewLevelling.Twist(Four(true)[..3], [1.04, 1.06, 0.96]).Value, 1e-12);
    }

    [Fact]
    public void What_cannot_be_levelled_is_refused()
    {
        AdjustingScrew[] screws = Four(true);
        var plane = new Plane(0, 0, 0);
        Assert.Equal(RefusalKind.OutOfRange, ScrewLevelling.Plan(plane, screws[..2]).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ScrewLevelling.Plan(plane, screws, fixedScrew: 4).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ScrewLevelling.Plan(plane, screws, smallestTurn: 0).Refusal!.Kind);
        Assert.Equal(RefusalKind.OutOfRange, ScrewLevelling.Plan(plane, [screws[0] with { PitchMm = 0 }, .. screws[1..]]).Refusal!.Kind);
        Assert.Equal(RefusalKind.NotFinite, ScrewLevelling.Plan(plane with { C = double.NaN }, screws).Refusal!.Kind);
        Assert.Equal(RefusalKind.Undetermined, ScrewLevelling.Plan(plane, [.. screws.Select(s => s with { X = 0 })]).Refusal!.Kind);
    }

    private static AdjustingScrew[] Four(bool clockwiseRaises) =>
    [
        new("front left", 35, 35, 0.7, clockwiseRaises), new("front right", 205, 35, 0.7, clockwiseRaises),
        new("back left", 35, 205, 0.7, clockwiseRaises), new("back right", 205, 205, 0.7, clockwiseRaises),
    ];
}
