using ProbeRunner.Console.Watches;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Console.Tests.Watches;

/// <summary>Disk and clock.</summary>
public sealed class WatchTests
{
    [Fact]
    public void A_disk_that_fills_up_warns_and_then_stops_the_run()
    {
        var free = long.MaxValue;
        var time = new SteeredTime();
        var watch = new DiskWatch(() => free, time);
        Assert.Equal(Sight.Well, watch.Look());

        (free, time.Elapsed) = (DiskWatch.FewBytes - 1, TimeSpan.FromMinutes(1));
        Assert.NotNull(watch.Look().Warning);

        (free, time.Elapsed) = (DiskWatch.LeastBytes - 1, TimeSpan.FromMinutes(2));
        Assert.Contains("Make room", watch.Look().Stop, StringComparison.Ordinal);
    }

    [Fact]
    public void A_disk_that_does_not_say_is_left_to_the_journal()
    {
        var watch = new DiskWatch(() => throw new IOException("gone"), new SteeredTime());

        Assert.Equal(Sight.Well, watch.Look());
    }

    [Theory]
    [InlineData(3600)]
    [InlineData(-3600)]
    public void A_clock_that_is_set_is_told_and_stops_nothing(int jumpSeconds)
    {
        var time = new SteeredTime();
        var watch = new ClockWatch(time);
        Assert.Equal(Sight.Well, watch.Look());
        time.Elapsed = TimeSpan.FromMinutes(10);
        Assert.Equal(Sight.Well, watch.Look());

        time.Set = TimeSpan.FromSeconds(jumpSeconds);
        var sight = watch.Look();

        Assert.Null(sight.Stop);
        Assert.Contains($"{jumpSeconds:+0;-0} s", sight.Warning, StringComparison.Ordinal);
        Assert.Equal(Sight.Well, watch.Look());
    }

    private sealed class SteeredTime : TimeProvider
    {
        public TimeSpan Elapsed { get; set; } = TimeSpan.FromSeconds(10);

        public TimeSpan Set { get; set; }

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => Elapsed.Ticks;

        public override DateTimeOffset GetUtcNow() => new DateTimeOffset(2026, 11, 25, 22, 0, 0, TimeSpan.Zero) + Elapsed + Set;
    }
}
