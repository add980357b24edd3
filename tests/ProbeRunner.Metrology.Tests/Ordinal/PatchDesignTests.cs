using CsCheck;
using ProbeRunner.Metrology.Ordinal;

namespace ProbeRunner.Metrology.Tests.Ordinal;

public sealed class PatchDesignTests
{
    private const double Lowest = 0.12, Highest = 0.28;

    [Fact]
    public void Sixteen_patches_over_three_batches_find_any_error_of_a_proven_offset_within_a_hundredth() =>
        Gen.Select(Gen.Double[-0.07, 0.07], Gen.Double[-0.004, 0.004].Array[16]).Sample((error, places) =>
        {
            var seen = new List<JudgedPatch>();
            Lay(PatchDesign.Coarse(Lowest, Highest, 6));
            Lay(PatchDesign.Fine(Known(), Lowest, Highest, 6));
            Lay(PatchDesign.Fine(Known(), Lowest, Highest, 4));

            Assert.InRange(Known().CorrectionMm + error, -0.01, 0.01);

            HeightCorrection Known() => HeightCorrection.Of(seen, Lowest, Highest, priorSigmaMm: 0.08).Value;

            // An eye without scatter, places a few thousandths off: what is left is the design's own error.
            void Lay(IEnumerable<double> gaps) => seen.AddRange(gaps.Select((gap, index) => new JudgedPatch(gap, Look(gap + error + places[seen.Count + index]))).ToList());
        });

    [Fact]
    public void A_pair_that_looks_good_bounds_the_gap_on_both_sides_and_one_that_does_not_on_its_own() =>
        Gen.Select(Gen.Double[-0.1, 0.1], Gen.Double[-0.05, 0.05]).Sample((deviation, error) =>
        {
            var known = new HeightCorrection(-error, 0.003, -error - 0.006, -error + 0.006, 0.95);
            (double low, double high) = PatchDesign.Check(known, Lowest, Highest, 0.02);
            JudgedPatch[] pair = [.. new[] { low, high }.Select(gap => new JudgedPatch(gap, Look(gap + error + deviation)))];

            PlaceDeviation found = PlaceDeviation.Of(pair, known, Lowest, Highest);

            Assert.True(found.LeastMm <= deviation + 1e-9 && deviation <= found.MostMm + 1e-9);
            Assert.Equal(deviation < -0.02, found.MostMm < 0);
            Assert.Equal(deviation > 0.02, found.LeastMm > 0);
        });

    [Fact]
    public void A_doubtful_place_weighs_less()
    {
        JudgedPatch[] sure = [.. Enumerable.Range(0, 6).Select(index => new JudgedPatch(0.1 + (0.01 * index), index < 2 ? PatchLook.Ridges : PatchLook.Good))];
        double without = HeightCorrection.Of(sure, Lowest, Highest).Value.CorrectionMm;
        double trusted = HeightCorrection.Of([.. sure, new JudgedPatch(0.25, PatchLook.Gaps)], Lowest, Highest).Value.CorrectionMm;
        double doubted = HeightCorrection.Of([.. sure, new JudgedPatch(0.25, PatchLook.Gaps, 0.1)], Lowest, Highest).Value.CorrectionMm;

        Assert.True(Math.Abs(doubted - without) < Math.Abs(trusted - without));
    }

    private static PatchLook Look(double gap) => gap < Lowest ? PatchLook.Ridges : gap > Highest ? PatchLook.Gaps : PatchLook.Good;
}
