using ProbeRunner.Console.Screens.Host;
using ProbeRunner.Console.Tests.Screens.Whole;

namespace ProbeRunner.Console.Tests.Screens.Host;

public sealed class SafetyKeyWatchTests
{
    private readonly SteppedTime time = new();
    private readonly FakeRun run = new();
    private readonly SafetyKeyWatch watch;

    public SafetyKeyWatchTests() => watch = new SafetyKeyWatch(time, () => run);

    [Theory]
    [InlineData("\u001c", "halt")]
    [InlineData("\u001b[20~", "halt")]
    [InlineData("\u001b[20;5~", "halt")]
    [InlineData("\u001b[92;5u", "halt")]
    [InlineData("abc\u001b[20~def\u001b[20~", "halt halt")]
    [InlineData("\u001b\u001b[20~", "halt")]
    [InlineData("\u001b[18~", "stop")]
    [InlineData("\u0003", "stop")]
    [InlineData("\u001b[99;5u", "stop")]
    [InlineData("\u0003\u0003", "stop halt")]
    [InlineData("\u0003\u0003\u0003", "stop halt stop")]
    [InlineData("\u001b[15~\u001bOP[20~", "")]
    [InlineData("20~18~", "")]
    [InlineData("\u001b[200~20~\u001b[201~", "")]
    [InlineData("\u001b[99u\u001b[92u", "")]
    public void The_keys_that_stop_and_halt_are_seen_in_the_raw_characters(string typed, string asked)
    {
        Type(typed);
        Assert.Equal(asked.Split(' ', StringSplitOptions.RemoveEmptyEntries), run.Asked);
    }

    [Fact]
    public void A_second_Ctrl_C_after_three_seconds_is_a_first_one_again()
    {
        Type("\u0003");
        time.Advance(TimeSpan.FromSeconds(3));
        Type("\u0003");
        Assert.Equal(["stop", "stop"], run.Asked);
    }

    [Fact]
    public void Without_a_machine_the_keys_reach_nobody()
    {
        var nobody = new SafetyKeyWatch(time, () => null);
        foreach (var character in "\u0003\u0003\u001c")
        {
            nobody.Take(character);
        }

        Assert.Empty(run.Asked);
    }

    private void Type(string typed)
    {
        foreach (var character in typed)
        {
            watch.Take(character);
        }
    }

    private sealed class SteppedTime : TimeProvider
    {
        private long ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => ticks;

        public void Advance(TimeSpan by) => ticks += by.Ticks;
    }
}
