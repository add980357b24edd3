using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;

namespace ProbeRunner.Machine.Tests.Dialects;

public sealed class TravelLimitsTests
{
    private static readonly ReplyReader Reader = new(Shipped.LineAck);

    [Theory]
    [InlineData("echo:soft limits on, Min X:-165.000 Y:-165.000 Z:0.000 Max X:165.000 Y:175.000 Z:320.000")]
    [InlineData("Soft limits: Off  Min:  X-165.0 Y-165.0 Z0.0   Max:  X165.0 Y175.0 Z320.0")]
    public void Limits_are_read_however_they_are_spaced(string line)
    {
        var limits = Reader.TravelLimits(["ok", line])!;

        Assert.Equal(new BedRectangle(-165, -165, 165, 175), limits.Nozzle);
        Assert.Equal((0.0, 320.0), (limits.LowestZ, limits.HighestZ));
    }

    [Theory]
    [InlineData("soft limits on")]
    [InlineData("soft limits on, Min X:0.000 Y:0.000 Z:0.000 Max X:240.000 Y:24")]
    [InlineData("soft limits on, Min X:0.000 Y:0.000 Z:0.000 Max X:240.000 Y:2?0.000 Z:240.000")]
    public void A_line_that_is_not_whole_gives_nothing(string line) => Assert.Null(Reader.TravelLimits([line]));
}
