using System.Collections.Immutable;
using CsCheck;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Tests.Physics;

public class TouchTests
{
    /// <summary>A machine without any noise, play or steps to speak of: what is left is geometry.</summary>
    private static Scenario Exact(BedScenario? bed = null) => new()
    {
        Bed = bed ?? new BedScenario(),
        Travel = new TravelScenario { StepsPerMmZ = 100_000, BacklashZMm = 0 },
        Probe = new ProbeScenario { TouchSdMm = 0, ExtensionSdMm = 0, HomingSdMm = 0 },
        Controller = new ControllerScenario { TouchDecimals = 4, Decimals = 4, StoredOffsetZ = -2.15 },
        Screws =
        [
            new ScrewScenario("front left", 35, 35, 0.7, ClockwiseRaises: false),
            new ScrewScenario("front right", 205, 35, 0.7, ClockwiseRaises: false),
            new ScrewScenario("back left", 35, 205, 0.7, ClockwiseRaises: false),
            new ScrewScenario("back right", 205, 205, 0.7, ClockwiseRaises: false),
        ],
        Person = new PersonScenario { ScrewSdTurns = 0, FeelSdMm = 0, LapseChance = 0 },
    };

    [Fact]
    public void A_flat_level_bed_with_the_right_offset_reads_zero_everywhere() => Bench.Run(Exact(), async bench =>
    {
        await bench.HomeAsync();
        foreach (var (x, y) in new[] { (20, 20), (200, 20), (20, 220), (200, 220), (120, 120) })
        {
            Assert.Equal(0, await bench.TouchAsync(x, y), 0.0001);
        }
    });

    [Fact]
    public void A_bed_that_rises_by_half_a_millimetre_to_the_right_reads_so() =>
        Bench.Run(Exact(new BedScenario { TiltXMm = 0.48 }), async bench =>
        {
            await bench.HomeAsync();
            // By hand: 0.48 over 240 mm is 0.002 a mm; 80 mm right of the homing place that is +0.16, 100 mm left of it -0.2.
            Assert.Equal(0.16, await bench.TouchAsync(200, 120), 0.0002);
            Assert.Equal(-0.2, await bench.TouchAsync(20, 120), 0.0002);
            Assert.Equal(0, await bench.TouchAsync(120, 30), 0.0002);
        });

    [Fact]
    public void A_bed_that_rises_to_the_back_reads_so() => Bench.Run(Exact(new BedScenario { TiltYMm = 0.24 }), async bench =>
    {
        await bench.HomeAsync();
        Assert.Equal(0.1, await bench.TouchAsync(120, 220), 0.0002);
        Assert.Equal(-0.1, await bench.TouchAsync(120, 20), 0.0002);
    });

    [Fact]
    public void A_bump_reads_its_height_in_the_middle_and_half_of_it_at_half_its_width() =>
        Bench.Run(Exact(new BedScenario { Bumps = [new Bump(60, 60, 0.1, 40)] }), async bench =>
        {
            await bench.HomeAsync();
            Assert.Equal(0.1, await bench.TouchAsync(60, 60), 0.0005);
            Assert.Equal(0.05, await bench.TouchAsync(80, 60), 0.0005);
            Assert.Equal(0.05, await bench.TouchAsync(60, 40), 0.0005);
        });

    [Fact]
    public void The_step_down_formula_gives_the_stored_offset_with_its_sign() => Bench.Run(Exact(), async bench =>
    {
        await bench.SendAsync("M851 Z-1.5");
        await bench.HomeAsync();
        await bench.SendAsync("M211 S0");
        var touch = await bench.TouchAsync(120, 120) + 1.5;
        await bench.SendAsync("G1 X120 Y120 Z1 F3000");
        bench.Printer.Ask("paper in");
        var z = 1.0;
        while (true)
        {
            await bench.SendAsync(FormattableString.Invariant($"G1 Z{z:F3} F300"));
            await bench.SendAsync("M400");
            if (bench.Printer.Ask("feel") == "drags")
            {
                break;
            }

            z -= 0.005;
        }

        // offset = (Z at drag - Z at touch) - paper thickness, design.md.
        Assert.Equal(-2.15, z - touch - 0.1, 0.006);
        Assert.Equal(2.15, bench.Truth.TriggerDistanceAt(120, 120), 9);
        Assert.Empty(bench.Truth.Scratches);
    });

    [Fact]
    public void After_a_homing_with_the_right_offset_z_zero_is_where_the_nozzle_touches() => Bench.Run(Exact(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("G1 X120 Y120 Z5 F6000");
        await bench.SendAsync("M400");
        Assert.Equal(5, bench.Truth.GapMm, 0.0001);
        Assert.Equal(0, bench.Truth.ContactHeightAt(120, 120), 0.0001);
    });

    [Fact]
    public void A_mesh_that_is_positive_where_the_bed_is_high_keeps_the_gap_the_same_everywhere() =>
        Bench.Run(Exact(new BedScenario { TiltXMm = 0.5, TiltYMm = -0.3 }), async bench =>
        {
            await bench.HomeAsync();
            foreach (var (column, row) in Enumerable.Range(0, 25).Select(node => (node % 5, node / 5)))
            {
                var (x, y) = (20 + (45 * column), 20 + (50 * row));
                var height = bench.Truth.BedHeightAt(x, y) - bench.Truth.BedHeightAt(120, 120);
                await bench.SendAsync(FormattableString.Invariant($"M421 I{column} J{row} Z{height:F4}"));
            }

            await bench.SendAsync("M420 S1");
            foreach (var (x, y) in new[] { (20, 20), (190, 60), (60, 200), (110, 110) })
            {
                await bench.SendAsync(FormattableString.Invariant($"G1 X{x} Y{y} Z2 F6000"));
                await bench.SendAsync("M400");
                Assert.Equal(2, bench.Truth.GapMm, 0.0005);
            }
        });

    [Fact]
    public void A_lean_changes_the_trigger_distance_along_x_and_not_along_y()
    {
        var exact = Exact();
        Bench.Run(exact with { Probe = exact.Probe with { LeanX = 0.001 } }, async bench =>
        {
            await bench.HomeAsync();
            Assert.Equal(0.1, bench.Truth.TriggerDistanceAt(180, 50) - bench.Truth.TriggerDistanceAt(80, 50), 9);
            Assert.Equal(0, bench.Truth.TriggerDistanceAt(80, 200) - bench.Truth.TriggerDistanceAt(80, 50), 9);
            Assert.Equal(0.1, await bench.TouchAsync(180, 50) - await bench.TouchAsync(80, 50), 0.0002);
        });
    }

    [Fact]
    public void Backlash_lifts_the_nozzle_only_when_it_came_from_below_the_other_way()
    {
        var exact = Exact();
        Bench.Run(exact with { Travel = exact.Travel with { BacklashZMm = 0.04 } }, async bench =>
        {
            await bench.HomeAsync();
            await bench.SendAsync("G1 X120 Y120 Z1 F3000");
            await bench.SendAsync("M400");
            var fromAbove = bench.Truth.GapMm;
            await bench.SendAsync("G1 Z0.5 F300");
            await bench.SendAsync("G1 Z1 F300");
            await bench.SendAsync("M400");
            Assert.Equal(0.04, fromAbove - bench.Truth.GapMm, 9);
        });
    }

    [Fact]
    public void A_screw_turned_so_that_it_lowers_lowers_its_corner_and_leaves_the_others() => Bench.Run(Exact(), async bench =>
    {
        await bench.HomeAsync();
        bench.Printer.Ask("turn screw front left 0.5");
        Assert.Equal(-0.35, bench.Truth.BedHeightAt(35, 35), 9);
        Assert.Equal(0, bench.Truth.BedHeightAt(205, 35), 9);
        Assert.Equal(0, bench.Truth.BedHeightAt(205, 205), 9);
    });

    [Fact]
    public void Z_stops_on_whole_steps()
    {
        var exact = Exact(new BedScenario { TiltXMm = 0.37 });
        Bench.Run(exact with { Travel = exact.Travel with { StepsPerMmZ = 400 } }, async bench =>
        {
            await bench.HomeAsync();
            foreach (var touch in bench.Truth.Touches)
            {
                Assert.InRange(touch.TrueZ - touch.MeasuredZ, 0, 0.0025 + 1e-9);
            }
        });
    }

    [Fact]
    public void Heat_raises_the_bed_with_a_lag_and_lengthens_the_nozzle_while_the_machine_works() => Bench.Run(Exact(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M140 S60");
        await bench.SendAsync("M104 S140");
        Assert.Equal(0, bench.Truth.BedHeightAt(120, 120), 9);
        await bench.SendAsync("G4 S200");
        var early = bench.Truth.BedHeightAt(120, 120);
        await bench.SendAsync("G4 S6000");
        var late = bench.Truth.BedHeightAt(120, 120);
        // By hand: 39 K at 0.001 mm/K; the nozzle is 119 K warmer, at 0.0003 mm/K that is 0.0357.
        Assert.InRange(early, 0.005, 0.03);
        Assert.Equal(0.039, late, 0.0001);
        Assert.Equal(2.15 - 0.0357, bench.Truth.TriggerDistanceAt(120, 120), 0.0001);
    });

    [Fact]
    public void Waiting_by_the_clock_changes_no_height() => Bench.Run(Exact(), async bench =>
    {
        await bench.HomeAsync();
        await bench.SendAsync("M140 S60");
        await Task.Delay(TimeSpan.FromHours(1), bench.Time);
        await bench.SendAsync("M105");
        Assert.Equal(0, bench.Truth.BedHeightAt(120, 120), 9);
    });

    [Fact]
    public void Touch_noise_has_the_spread_that_the_scenario_says()
    {
        var exact = Exact();
        Bench.Run(exact with { Probe = exact.Probe with { TouchSdMm = 0.01 } }, async bench =>
        {
            await bench.HomeAsync();
            await bench.SendAsync("M401");
            const int Count = 400;
            var heights = new double[Count];
            for (var index = 0; index < Count; index++)
            {
                heights[index] = await bench.TouchAsync(120, 120);
            }

            var mean = heights.Average();
            var sd = Math.Sqrt(heights.Sum(height => Math.Pow(height - mean, 2)) / (Count - 1));
            // The standard error of a standard deviation of 400 readings is 3.5 %; four of them.
            Assert.InRange(sd, 0.0086, 0.0114);
        });
    }

    [Fact]
    public void Every_reading_is_the_truth_within_its_noise_and_a_step_on_any_bed()
    {
        var beds = Gen.Select(Gen.Double[-0.4, 0.4], Gen.Double[-0.4, 0.4], Gen.Double[-0.3, 0.3], Gen.Double[-0.3, 0.3], Gen.ULong)
            .Select((tilt, bow, twist, bump, seed) => ScenarioFile.Load("good") with
            {
                Seed = seed,
                Bed = new BedScenario { TiltXMm = tilt, BowYMm = bow, TwistMm = twist, Bumps = [new Bump(80, 90, bump, 50)] },
            });
        beds.Sample(
            scenario => Bench.Run(scenario, async bench =>
            {
                await bench.HomeAsync();
                foreach (var place in ImmutableArray.Create((30, 30), (190, 60), (80, 90), (150, 200)))
                {
                    await bench.TouchAsync(place.Item1, place.Item2);
                }

                var noise = Math.Sqrt(Math.Pow(scenario.Probe.TouchSdMm, 2) + Math.Pow(scenario.Probe.ExtensionSdMm, 2));
                foreach (var touch in bench.Truth.Touches.Where(touch => !touch.ByHoming))
                {
                    Assert.InRange(touch.MeasuredZ - touch.TrueZ, (-5.5 * noise) - 0.0025, 5.5 * noise);
                }
            }),
            iter: 40,
            threads: 1);
    }
}
