using CsCheck;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Metrology.Tests.Series;

/// <summary>Worked by hand; the rule is common practice, no source.</summary>
public sealed class RepeatedTouchesTests
{
    [Fact]
    public void Of_three_touches_the_one_that_two_others_contradict_is_left_out()
    {
        CombinedTouches combined = RepeatedTouches.Combine([1.000, 1.004, 1.200], 0.03).Value;

        Assert.Equal([0, 1], combined.Kept.AsEnumerable());
        Assert.Equal(1.002, combined.Height, 1e-12);
        Assert.True(combined.Settled);
        Assert.Equal(2 * 0.002 * 0.002, combined.SumOfSquares, 1e-15);
    }

    [Fact]
    public void Two_that_contradict_each_other_settle_nothing() => Assert.False(RepeatedTouches.Combine([1.0, 1.1], 0.03).Value.Settled);

    [Fact]
    public void The_median_goes_by_the_middle_of_those_that_agree() =>
        Assert.Equal(1.001, RepeatedTouches.Combine([1.000, 1.001, 1.020, 5], 0.03, RepeatRule.Median).Value.Height, 1e-12);

    [Fact]
    public void Nothing_and_nonsense_are_refused()
    {
        Assert.NotNull(RepeatedTouches.Combine([], 0.03).Refusal);
        Assert.NotNull(RepeatedTouches.Combine([double.NaN], 0.03).Refusal);
        Assert.NotNull(RepeatedTouches.Combine([1], 0).Refusal);
    }

    [Fact]
    public void The_height_lies_among_the_kept_ones_which_all_agree_with_one_of_them() =>
        Gen.Select(Gen.Double[-2, 2].Array[1, 6], Gen.Double[0.01, 0.5], Gen.Bool).Sample((heights, within, median) =>
        {
            CombinedTouches one = RepeatedTouches.Combine(heights, within, median ? RepeatRule.Median : RepeatRule.TrimmedMean).Value;
            double[] kept = [.. one.Kept.Select(index => heights[index])];
            Assert.InRange(one.Height, kept.Min() - 1e-12, kept.Max() + 1e-12);
            Assert.Contains(kept, centre => kept.All(height => Math.Abs(height - centre) <= within));
        });
}
