using CsCheck;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Tests;

public sealed class BedRectangleTests
{
    private static readonly Gen<double> Coordinate = Gen.OneOf(Gen.Double[-10, 20], Gen.Int[-2, 12].Select(whole => (double)whole));

    [Fact]
    public void A_line_crosses_a_rectangle_when_a_walk_along_it_enters() =>
        Gen.Select(Coordinate, Coordinate, Coordinate, Coordinate).Sample((x1, y1, x2, y2) =>
        {
            var rectangle = new BedRectangle(0, 0, 10, 5);
            (BedPoint from, BedPoint to) = (new BedPoint(x1, y1), new BedPoint(x2, y2));
            bool walked = Enumerable.Range(0, 2001).Any(step => rectangle.Contains(
                new BedPoint(x1 + ((x2 - x1) * step / 2000), y1 + ((y2 - y1) * step / 2000))));
            Assert.True(!walked || rectangle.IsCrossedBy(from, to));
            Assert.True(walked || !rectangle.Inset(0.02).IsCrossedBy(from, to));
        });
}
