using ProbeRunner.Metrology.Ordinal;

namespace ProbeRunner.Metrology.Tests.Ordinal;

public class HeightCorrectionTests
{
    private const double Lowest = 0.12;
    private const double Highest = 0.28;

    /// <summary>Heights that straddle both ends of the window, as a pattern would.</summary>
    private static readonly double[] Heights = [0.11, 0.12, 0.13, 0.14, 0.16, 0.20, 0.24, 0.26, 0.27, 0.28, 0.29, 0.30];

    [Fact]
    public void Patches_that_mirror_each_other_about_the_windows_middle_need_no_correction()
    {
        // By symmetry alone, whatever the model: no source needed.
        JudgedPatch[] patches =
        [
            new(0.10, PatchLook.Ridges), new(0.13, PatchLook.Good), new(0.20, PatchLook.Good), new(0.27, PatchLook.Good), new(0.30, PatchLook.Gaps),
        ];

        Assert.Equal(0, HeightCorrection.Of(patches, Lowest, Highest).Value.CorrectionMm, 1e-6);
    }

    [Fact]
    public void What_is_added_moves_the_correction_and_widens_its_interval_by_its_own()
    {
        var found = new HeightCorrection(0.01, 0.003, 0.004, 0.018, 0.95);
        HeightCorrection sure = found.And(-0.02, 0), unsure = (found with { LowerMm = 0.01, UpperMm = 0.01, StandardUncertaintyMm = 0.003 }).And(0, 0.004);

        Assert.Equal(-0.01, sure.CorrectionMm, 1e-12);
        Assert.Equal(-0.016, sure.LowerMm, 1e-12);
        Assert.Equal(-0.002, sure.UpperMm, 1e-12);
        Assert.Equal(0.005, unsure.StandardUncertaintyMm, 1e-12); // 3, 4, 5
        Assert.Equal(0.01 + (1.95996398454 * 0.004), unsure.UpperMm, 1e-10); // z.975 as R gives it
        Assert.Equal(0.01 - (1.95996398454 * 0.004), unsure.LowerMm, 1e-10);
    }

    [Theory]
    [InlineData(-0.02)]
    [InlineData(-0.013)]
    [InlineData(0)]
    [InlineData(0.037)]
    public void A_sharp_eye_finds_an_error_within_the_fine_steps_of_the_heights_to_a_hundredth(double errorMm)
    {
        HeightCorrection found = HeightCorrection.Of(Judged(errorMm, _ => 0), Lowest, Highest).Value;

        Assert.Equal(-errorMm, found.CorrectionMm, 0.01);
        Assert.InRange(-errorMm, found.LowerMm, found.UpperMm);
    }

    [Fact]
    public void The_interval_holds_the_truth_about_as_often_as_it_says()
    {
        var chance = new Random(20260105);
        int held = 0;
        const int Runs = 400;
        for (int run = 0; run < Runs; run++)
        {
            double error = (chance.NextDouble() - 0.5) * 0.1;
            HeightCorrection found = HeightCorrection.Of(Judged(error, _ => 0.012 * Normal(chance)), Lowest, Highest).Value;
            held += found.LowerMm <= -error && -error <= found.UpperMm ? 1 : 0;
        }

        Assert.InRange(held / (double)Runs, 0.91, 1);
    }

    [Fact]
    public void One_look_without_thought_moves_the_correction_by_less_than_a_hundredth()
    {
        JudgedPatch[] patches = [.. Judged(0, _ => 0)];
        double before = HeightCorrection.Of(patches, Lowest, Highest).Value.CorrectionMm;
        patches[5] = patches[5] with { Look = PatchLook.Gaps };

        Assert.Equal(before, HeightCorrection.Of(patches, Lowest, Highest).Value.CorrectionMm, 0.01);
    }

    [Fact]
    public void Fewer_than_three_patches_or_numbers_that_are_none_are_refused()
    {
        Assert.False(HeightCorrection.Of([new(0.2, PatchLook.Good), new(0.2, PatchLook.Good)], Lowest, Highest).IsKnown);
        Assert.False(HeightCorrection.Of([new(double.NaN, PatchLook.Good), new(0.2, PatchLook.Good), new(0.2, PatchLook.Good)], Lowest, Highest).IsKnown);
        Assert.False(HeightCorrection.Of([.. Judged(0, _ => 0)], Highest, Lowest).IsKnown);
    }

    private static JudgedPatch[] Judged(double errorMm, Func<int, double> noise) => [.. Heights.Select((height, index) =>
    {
        double gap = height + errorMm + noise(index);
        return new JudgedPatch(height, gap < Lowest ? PatchLook.Ridges : gap > Highest ? PatchLook.Gaps : PatchLook.Good);
    })];

    private static double Normal(Random chance) => Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
