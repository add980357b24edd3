using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.SimulatedPrinter.Tests.Time;

public class ScaledTimeTests
{
    [Fact]
    public void A_minute_at_fifty_times_takes_one_and_a_fifth_seconds_of_the_clock_below()
    {
        VirtualTime.Run(async below =>
        {
            var time = new ScaledTime(50, underlying: below);
            var began = time.GetTimestamp();
            await Task.Delay(TimeSpan.FromMinutes(1), time);
            Assert.Equal(TimeSpan.FromSeconds(1.2), below.Elapsed);
            Assert.Equal(TimeSpan.FromMinutes(1), time.GetElapsedTime(began));
        });
    }

    [Fact]
    public void A_deadline_is_never_shorter_than_the_least_real_time()
    {
        VirtualTime.Run(async below =>
        {
            var deadlines = new ScaledTime(100, TimeSpan.FromSeconds(1), below);
            await Task.Delay(TimeSpan.FromSeconds(5), deadlines);
            Assert.Equal(TimeSpan.FromSeconds(1), below.Elapsed);
        });
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(20_000)]
    public void An_impossible_speed_is_refused(double speed) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new ScaledTime(speed));
}
