using CsCheck;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Tests.Watches;

/// <summary>One heater's reports, judged. The limits are common practice, no source.</summary>
public sealed class HeaterHistoryTests
{
    private static readonly DateTimeOffset Start = new(2026, 11, 25, 22, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_heater_that_warms_overshoots_holds_and_cools_is_left_alone()
    {
        var nozzle = new HeaterHistory("nozzle", 260);
        double second = 0;
        for (double t = 21; t < 214; t += 2)
        {
            Assert.Null(nozzle.Take(t, 210, At(second++)));
        }

        for (int hold = 0; hold < 600; hold++)
        {
            Assert.Null(nozzle.Take(210 + Math.Sin(hold), 210, At(second++)));
        }

        Assert.Null(nozzle.Take(213, 0, At(second++))); // rises a little after it was switched off
        for (double t = 213; t > 25; t -= 0.7)
        {
            Assert.Null(nozzle.Take(t, 0, At(second++)));
        }
    }

    [Fact]
    public void One_damaged_report_stops_nothing_and_is_forgotten()
    {
        var nozzle = new HeaterHistory("nozzle", 260);
        Assert.Null(nozzle.Take(205, 205, At(0)));
        Assert.Null(nozzle.Take(285, 205, At(1)));
        Assert.True(nozzle.IsInDoubt);
        Assert.Null(nozzle.Take(205, 205, At(2)));
        Assert.Null(nozzle.Take(285, 205, At(3)));
        Assert.Null(nozzle.Take(205, 205, At(4)));
    }

    [Theory]
    [InlineData(-15, 0, "sensor")]
    [InlineData(1, 60, "sensor")]
    [InlineData(290, 250, "cap")]
    public void What_cannot_or_must_not_be_is_told_when_two_reports_say_it(double celsius, double target, string word)
    {
        var nozzle = new HeaterHistory("nozzle", 260);
        Assert.Null(nozzle.Take(celsius, target, At(0)));
        Assert.Contains(word, nozzle.Take(celsius, target, At(1)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_heater_that_rises_though_it_is_switched_off_is_told()
    {
        var bed = new HeaterHistory("bed", 100);
        string? told = null;
        for (int second = 0; second < 200 && told is null; second++)
        {
            told = bed.Take(21 + (0.3 * second), 0, At(second));
        }

        Assert.Contains("switched off", told, StringComparison.Ordinal);
    }

    [Fact]
    public void A_heater_that_does_not_warm_its_sensor_is_told_after_three_minutes()
    {
        var bed = new HeaterHistory("bed", 100);
        int second = 0;
        while (bed.Take(21, 60, At(second)) is null && second < 1000)
        {
            second++;
        }

        Assert.InRange(second, 180, 190);
    }

    [Fact]
    public void A_sensor_that_falls_at_once_is_told_and_a_slow_gap_in_the_reports_is_no_jump()
    {
        var nozzle = new HeaterHistory("nozzle", 260);
        Assert.Null(nozzle.Take(150, 200, At(0)));
        Assert.Null(nozzle.Take(190, 200, At(60)));
        Assert.Null(nozzle.Take(60, 200, At(61)));
        Assert.Contains("fell", nozzle.Take(60, 200, At(62)), StringComparison.Ordinal);
    }

    [Fact]
    public void Whatever_is_reported_it_never_fails() =>
        Gen.Select(Gen.Double[-400, 1000], Gen.Double[0, 400]).Array[1, 50].Sample(reports =>
        {
            var heater = new HeaterHistory("nozzle", 260);
            for (int report = 0; report < reports.Length; report++)
            {
                _ = heater.Take(reports[report].Item1, reports[report].Item2, At(report));
            }
        });

    private static DateTimeOffset At(double seconds) => Start + TimeSpan.FromSeconds(seconds);
}
