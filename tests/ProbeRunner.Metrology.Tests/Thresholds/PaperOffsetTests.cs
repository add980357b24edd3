using ProbeRunner.Metrology.Budgets;
using ProbeRunner.Metrology.Thresholds;

namespace ProbeRunner.Metrology.Tests.Thresholds;

/// <summary>Worked by hand from the formulas named in the documentation of each type (JCGM 100:2008, 5.1.2, 4.3.7 and 6.3.3).</summary>
public sealed class PaperOffsetTests
{
    private static readonly PaperTakeHeights First = new([2.000, 2.004], -0.048, 0.010);
    private static readonly PaperTakeHeights Second = new([1.998, 2.002], -0.080, 0.005);

    [Fact]
    public void Two_takes_give_the_offset_and_the_budget_worked_by_hand()
    {
        PaperOffset offset = PaperOffset.Of([First, Second], 0.100, 0.006, 0.0025).Value;

        // Weights 1 : 4 of -2.050 and -2.080, less 0.100.
        Assert.Equal(-2.174, offset.OffsetMm, 1e-12);
        Assert.Equal([-2.150, -2.180], offset.TakeOffsetsMm.Select(one => Math.Round(one, 12)));

        // Between takes: sqrt((0.024^2 + 0.006^2) / 1 / 2), larger than 1 / sqrt(50,000); touches: sqrt(16e-6 / 2) / 2.
        Assert.Equal([0.01749286, 0.006, 0.00141421, 0.00072169], offset.Budget.Shares.Select(share => Math.Round(share.Uncertainty, 8)));
        Assert.Equal(0.0185613, offset.StandardUncertaintyMm, 1e-7);
        Assert.True(offset.Agree);
    }

    [Fact]
    public void One_take_rests_on_its_own_standard_error()
    {
        PaperOffset offset = PaperOffset.Of([Second], 0, 0, 0.0025).Value;

        Assert.Equal(-2.080, offset.OffsetMm, 1e-12);
        Assert.Equal(0.005, offset.Budget.Shares[0].Uncertainty, 1e-12);
    }

    [Fact]
    public void Takes_farther_apart_than_their_errors_allow_do_not_agree() =>
        Assert.False(PaperOffset.Of([First, Second with { DragMm = -0.120 }], 0.1, 0.006, 0.0025).Value.Agree); // 0.070 against 0.0524

    [Fact]
    public void Nothing_to_combine_is_refused()
    {
        Assert.False(PaperOffset.Of([], 0.1, 0.006, 0.0025).IsKnown);
        Assert.False(PaperOffset.Of([First with { DragStandardErrorMm = 0 }], 0.1, 0.006, 0.0025).IsKnown);
    }

    [Theory]
    [InlineData(0.13, true)]
    [InlineData(0.169, true)]
    [InlineData(0.171, false)]
    [InlineData(0.02, false)]
    public void A_promise_is_kept_within_the_tolerance_and_twice_the_uncertainty(double dragMm, bool kept)
    {
        DragPromise promise = DragPromise.Of(dragMm, 0.004, 0.10, 0.06, 0.003);

        Assert.Equal(0.07, promise.AllowedMm, 1e-12); // 0.06 + 2 sqrt(0.004^2 + 0.003^2)
        Assert.Equal(kept, promise.IsKept);
    }

    [Fact]
    public void A_stack_of_ten_divides_the_caliper_s_error_by_ten()
    {
        StackThickness stack = StackThickness.Of(10, 1.03).Value;

        Assert.Equal(0.103, stack.SheetMm, 1e-12);
        Assert.Equal(0.03 / Math.Sqrt(3) / 10, stack.Budget.Shares[0].Uncertainty, 1e-9);
        Assert.Equal(0.00248650, stack.StandardUncertaintyMm, 1e-8); // sqrt(0.001732^2 + 0.001784^2)
        Assert.False(StackThickness.Of(0, 1).IsKnown);
        Assert.False(StackThickness.Of(10, 0).IsKnown);
    }
}
