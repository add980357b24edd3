using System.Threading.Channels;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.SimulatedPrinter.Tests.Time;

public class VirtualTimeTests
{
    [Fact]
    public void A_night_of_waiting_ends_with_the_clock_eight_hours_on()
    {
        var (timestamp, utc) = VirtualTime.Run(async time =>
        {
            var (from, fromUtc) = (time.GetTimestamp(), time.GetUtcNow());
            await Task.Delay(TimeSpan.FromHours(8), time);
            return (time.GetElapsedTime(from), time.GetUtcNow() - fromUtc);
        });

        Assert.Equal(TimeSpan.FromHours(8), timestamp);
        Assert.Equal(TimeSpan.FromHours(8), utc);
    }

    [Fact]
    public void Timers_fire_by_due_time_and_equal_ones_in_the_order_they_were_set()
    {
        List<string> order = [];
        VirtualTime.Run(async time =>
        {
            async Task Wait(string name, int seconds)
            {
                await Task.Delay(TimeSpan.FromSeconds(seconds), time);
                order.Add(name);
            }

            await Task.WhenAll(Wait("late", 9), Wait("first of two", 5), Wait("second of two", 5), Wait("early", 1));
        });

        Assert.Equal(["early", "first of two", "second of two", "late"], order);
    }

    [Fact]
    public void Work_that_is_ready_is_done_before_the_clock_moves()
    {
        VirtualTime.Run(async time =>
        {
            var channel = Channel.CreateUnbounded<int>();
            var deadline = Task.Delay(TimeSpan.FromMilliseconds(1), time);
            var sum = 0;
            async Task Read()
            {
                while (await channel.Reader.WaitToReadAsync())
                {
                    while (channel.Reader.TryRead(out var number))
                    {
                        sum += number;
                        await Task.Yield();
                    }
                }
            }

            var reading = Read();
            for (var number = 1; number <= 1000; number++)
            {
                channel.Writer.TryWrite(number);
                await Task.Yield();
            }

            channel.Writer.Complete();
            await reading;
            Assert.Equal(500_500, sum);
            Assert.False(deadline.IsCompleted);
            Assert.Equal(TimeSpan.Zero, time.Elapsed);
        });
    }

    [Fact]
    public void A_wait_that_can_never_end_is_reported_as_a_deadlock()
    {
        var thrown = Assert.Throws<VirtualDeadlockException>(() => VirtualTime.Run(async time =>
        {
            await Task.Delay(TimeSpan.FromMinutes(3), time);
            await new TaskCompletionSource().Task;
        }));

        Assert.Equal(TimeSpan.FromMinutes(3), thrown.Elapsed);
        Assert.Contains("no timer is set", thrown.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_that_only_ticks_is_stopped_at_its_limit() =>
        Assert.Throws<TimeoutException>(() => VirtualTime.Run(
            async time =>
            {
                using var tick = new PeriodicTimer(TimeSpan.FromSeconds(1), time);
                while (await tick.WaitForNextTickAsync())
                {
                }
            },
            limit: TimeSpan.FromHours(1)));

    [Fact]
    public void A_cancelled_delay_and_a_deadline_token_work_as_on_the_system_clock()
    {
        VirtualTime.Run(async time =>
        {
            using var deadline = new CancellationTokenSource(TimeSpan.FromSeconds(10), time);
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Task.Delay(TimeSpan.FromHours(1), time, deadline.Token));
            Assert.Equal(TimeSpan.FromSeconds(10), time.Elapsed);
        });
    }

    [Fact]
    public void An_exception_of_the_body_comes_out_unwrapped() =>
        Assert.Throws<FormatException>(() => VirtualTime.Run(async time =>
        {
            await Task.Delay(TimeSpan.FromSeconds(1), time);
            throw new FormatException();
        }));

    [Fact]
    public void The_clock_stands_still_for_work_on_another_thread()
    {
        VirtualTime.Run(async time =>
        {
            var tooEarly = Task.Delay(TimeSpan.FromSeconds(1), time);
            var answer = 0;
            using (time.StandStill())
            {
                answer = await Task.Run(() => Enumerable.Range(1, 100_000).Count(number => number % 7 == 0));
            }

            Assert.Equal(14285, answer);
            Assert.False(tooEarly.IsCompleted);
            Assert.Equal(1, time.ForeignPosts);
        });
    }

    [Fact]
    public void The_same_tangle_of_tasks_interleaves_the_same_way_every_time()
    {
        var first = Tangle();
        for (var run = 0; run < 50; run++)
        {
            Assert.Equal(first, Tangle());
        }
    }

    private static List<(int Task, long Ticks)> Tangle()
    {
        List<(int, long)> log = [];
        VirtualTime.Run(async time =>
        {
            async Task Walk(int task)
            {
                for (var step = 0; step < 20; step++)
                {
                    await Task.Delay(TimeSpan.FromMilliseconds((task * 7 + step * 13) % 5), time);
                    await Task.Yield();
                    log.Add((task, time.GetTimestamp()));
                }
            }

            await Task.WhenAll(Enumerable.Range(0, 20).Select(Walk));
            Assert.Equal(0, time.ForeignPosts);
        });
        return log;
    }
}
