using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Surfaces;

namespace ProbeRunner.Metrology.Tests.Surfaces;

/// <summary>Worked by hand: neighbours on a plane, so that the answer is the height above it.</summary>
public sealed class JumpTests
{
    private static readonly SurfacePoint[] Square = [new(0, 0, 1), new(20, 0, 1.1), new(0, 20, 0.9), new(20, 20, 1.0)];

    [Fact]
    public void A_reading_on_its_neighbours_plane_does_not_jump() => Assert.Equal(0, Jump.Against(Square, new SurfacePoint(10, 10, 1.0))!.Value, 1e-12);

    [Fact]
    public void A_reading_off_it_jumps_by_its_distance() => Assert.Equal(-0.5, Jump.Against(Square, new SurfacePoint(30, 10, 0.6))!.Value, 1e-12);

    [Fact]
    public void Neighbours_on_one_line_too_few_or_far_away_tell_nothing()
    {
        Assert.Null(Jump.Against([new(0, 0, 1), new(10, 0, 1), new(20, 0, 1), new(30, 0, 1)], new SurfacePoint(10, 5, 9)));
        Assert.Null(Jump.Against(Square.Take(3), new SurfacePoint(10, 10, 9)));
        Assert.Null(Jump.Against(Square, new SurfacePoint(200, 200, 9)));
    }
}
