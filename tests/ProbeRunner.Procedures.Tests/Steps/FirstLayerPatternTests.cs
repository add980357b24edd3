using CsCheck;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Steps.FirstLayer;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class FirstLayerPatternTests
{
    private static readonly Extrusion Usual = new(0.45, 0.2, 1.75, 1);

    [Fact]
    public void A_line_takes_the_filament_that_its_volume_says()
    {
        // By hand: 100 x 0.45 x 0.2 = 9 mm^3; a filament of 1.75 mm has pi/4 x 1.75^2 = 2.405282 mm^2; 9 / 2.405282 = 3.741765 mm.
        Assert.Equal(9, Usual.VolumeFor(100), 1e-9);
        Assert.Equal(3.741765, Usual.FilamentFor(100), 0.0000037);

        // 9 mm^3 of 2.85 mm filament, 95 % flow: pi/4 x 2.85^2 = 6.379397 mm^2; 8.55 / 6.379397 = 1.340253 mm.
        Assert.Equal(1.340253, (Usual with { FilamentMm = 2.85, Flow = 0.95 }).FilamentFor(100), 0.0000013);
    }

    [Fact]
    public void A_patch_holds_the_plastic_of_its_area_within_its_last_joins() =>
        Gen.Select(Gen.Double[8, 30], Gen.Double[0.3, 0.8]).Sample((side, width) =>
        {
            Extrusion extrusion = Usual with { LineWidthMm = width };
            Patch patch = Patch.Square(new BedPoint(100, 100), 0.2, side, extrusion);
            double volume = patch.Lines.Sum(line => line.FilamentMm) * Math.PI * 1.75 * 1.75 / 4;
            int count = (int)(side / width);
            double way = (count * side) + ((count - 1) * width);
            Assert.Equal(way * width * 0.2, volume, volume * 0.001);
        });

    [Fact]
    public void A_patch_stays_within_its_square_and_goes_to_and_fro_without_a_jump()
    {
        Patch patch = Patch.Square(new BedPoint(50, 60), 0.2, 16, Usual);
        BedPoint at = patch.Start;

        foreach (var line in patch.Lines)
        {
            Assert.InRange(line.To.X, 42, 58);
            Assert.InRange(line.To.Y, 52, 68);
            Assert.True(line.To.X == at.X || line.To.Y == at.Y);
            at = line.To;
        }

        Assert.Equal(35 + 34, patch.Lines.Count());
    }
}
