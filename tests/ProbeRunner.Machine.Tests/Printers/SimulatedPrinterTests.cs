using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Tests.Printers;

public sealed class SimulatedPrinterTests
{
    private static readonly BedPoint Middle = new(120, 120);

    private static readonly BedPoint[] Places =
    [
        new(20, 20), new(60, 20), new(100, 30), new(140, 30), new(180, 20), new(180, 100), new(120, 120), new(60, 110), new(20, 200), new(100, 210), new(180, 220),
    ];

    private static async Task<List<Reading>> TouchAllAsync(Printer printer)
    {
        var readings = new List<Reading>();
        foreach (BedPoint place in Places)
        {
            readings.Add(await printer.TouchAsync(place, default));
        }

        return readings;
    }

    private static async Task HomeAsync(Printer printer)
    {
        await printer.LiftUnhomedAsync(5, default);
        await printer.HomeAsync(Axes.XY, default);
        await printer.HomeAsync(Axes.Z, default);
    }

    public static TheoryData<string, Func<ControllerScenario, ControllerScenario>> Variants() => new()
    {
        { "plain", controller => controller },
        { "buffers, short resend, positional", controller => controller with { Ok = OkStyle.Buffers, Resend = ResendStyle.Abbreviated, TouchReport = TouchReportStyle.Positional } },
        { "numbered ok, three decimals", controller => controller with { Ok = OkStyle.Numbered, Resend = ResendStyle.AbbreviatedWithLetter, Decimals = 3 } },
        { "no echo, carriage returns", controller => controller with { EchoPrefix = false, CarriageReturns = true, OffsetReportIsCommand = true } },
        { "wait, remarks, temperatures apart", controller => controller with { SaysWait = true, RemarkSeconds = 7, TemperaturesOnOk = false } },
        { "servo pin, reset on open", controller => controller with { ProbeCommands = ProbeCommandStyle.Servo, ResetsOnOpen = true } },
        { "no checksums", controller => controller with { Checksums = false } },
        { "mesh kept on homing, silent while busy", controller => controller with { KeepsMeshOnHoming = true, BusySeconds = 0 } },
    };

    [Theory]
    [MemberData(nameof(Variants))]
    public void Every_wording_of_a_controller_gives_true_readings(string wording, Func<ControllerScenario, ControllerScenario> change)
    {
        Assert.NotEmpty(wording);
        InCulture.Run("de-DE", () => SimulatedBench.Run(SimulatedBench.Good(change), async bench =>
        {
            await HomeAsync(bench.Printer);
            foreach (Reading reading in await TouchAllAsync(bench.Printer))
            {
                // 4.5 sigma of touch and extension noise, plus one step: the accuracy asked of a grid point.
                double sigma = Math.Sqrt(Math.Pow(bench.Host.Scenario.Probe.TouchSdMm, 2) + Math.Pow(bench.Host.Scenario.Probe.ExtensionSdMm, 2));
                Assert.Equal(bench.Host.Truth.ReadingAt(reading.Place.X, reading.Place.Y), reading.Z, (4.5 * sigma) + 0.0025 + 0.0005);
                Assert.False(reading.Suspect);
            }
        }));
    }

    [Fact]
    public void Another_origin_and_a_probe_behind_the_nozzle_read_as_true() =>
        SimulatedBench.Run(ScenarioFile.Load("heron-good"), async bench =>
        {
            await HomeAsync(bench.Printer);
            foreach (BedPoint place in new BedPoint[] { new(165, 165), new(40, 60), new(300, 60), new(300, 290), new(40, 290) })
            {
                Reading reading = await bench.Printer.TouchAsync(place, default);
                Assert.Equal(bench.Host.Truth.ReadingAt(place.X, place.Y), reading.Z, 0.03);
            }
        });

    [Fact]
    public void One_bad_byte_in_a_tenth_of_the_lines_sent_changes_no_reading()
    {
        List<Reading> clean = [];
        List<Reading> damaged = [];
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await HomeAsync(bench.Printer);
            clean = await TouchAllAsync(bench.Printer);
        });
        SimulatedBench.Run(
            SimulatedBench.Good(),
            async bench =>
            {
                await HomeAsync(bench.Printer);
                damaged = await TouchAllAsync(bench.Printer);
                Assert.True(bench.Channel.Health.Resends > 5);
            },
            new FaultPlan { BadByteToController = 0.1, Seed = 3 });

        Assert.Equal(clean.Select(reading => (reading.Place, reading.Z)), damaged.Select(reading => (reading.Place, reading.Z)));
    }

    [Fact]
    public void With_a_tenth_of_the_received_lines_damaged_every_reading_is_still_that_place_s_own() =>
        SimulatedBench.Run(
            SimulatedBench.Good(),
            async bench =>
            {
                await HomeAsync(bench.Printer);
                foreach (Reading reading in await TouchAllAsync(bench.Printer))
                {
                    Assert.Equal(bench.Host.Truth.ReadingAt(reading.Place.X, reading.Place.Y), reading.Z, 0.1);
                }
            },
            new FaultPlan { BadByteFromController = 0.1, Seed = 5 },
            new PrinterOptions { ConfirmEveryReading = true });

    [Fact]
    public void Homing_switches_mesh_correction_off_even_where_the_controller_keeps_it() =>
        SimulatedBench.Run(SimulatedBench.Good(controller => controller with { KeepsMeshOnHoming = true }), async bench =>
        {
            await HomeAsync(bench.Printer);
            ImmutableArray<double> heights = [.. Enumerable.Range(0, 25).Select(node => 0.004 * (node - 12))];
            MeshNodes written = await bench.Printer.WriteMeshAsync(new MeshNodes(new BedRectangle(0, 0, 1, 1), 5, 5, heights), default);

            // The rectangle is what the controller says, not what was handed in.
            Assert.Equal(new BedRectangle(20, 20, 200, 220), written.Area);
            Assert.All(written.Heights.Zip(bench.Host.Truth.Mesh), pair => Assert.Equal(pair.Second, pair.First, 6));
            Assert.True(await bench.Printer.SetMeshCorrectionAsync(on: true, default));
            Assert.True(bench.Host.Truth.MeshCorrectionOn);
            await bench.Printer.HomeAsync(Axes.All, default);
            Assert.False(bench.Host.Truth.MeshCorrectionOn);
        });

    [Fact]
    public void The_offset_is_written_read_back_stored_and_survives_a_power_cut() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await HomeAsync(bench.Printer);
            ProbeOffset before = await bench.Printer.ReadProbeOffsetAsync(default);
            await bench.Printer.WriteProbeOffsetAsync(before with { Z = -2.153 }, default);
            await bench.Printer.StoreSettingsAsync(default);
            Assert.Equal(-2.153, bench.Host.Truth.StoredOffsetZ, 6);

            bench.Host.PowerCycle();
            await Assert.ThrowsAsync<ControllerResetException>(() => bench.Printer.StoreSettingsAsync(default));
            await HomeAsync(bench.Printer);
            Reading reading = await bench.Printer.TouchAsync(Middle, default);

            // Every homing makes the trigger at the homing place minus the stored offset.
            Assert.Equal(2.153, reading.Z, 0.03);
        });

    [Fact]
    public void A_step_down_reaches_the_paper_and_never_the_bed_beyond_the_floor() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            Printer printer = bench.Printer;
            await HomeAsync(printer);
            Reading touch = await printer.TouchAsync(Middle, default);
            await printer.LiftToClearanceAsync(default);
            await printer.MoveNozzleAsync(Middle, default);
            await printer.SetSoftLimitsAsync(on: false, default);
            printer.BeginStepDown(touch.Z, 2.2);
            double z = printer.Guard.State.StepDown!.NearBedZ;
            await printer.MoveToHeightAsync(z, 300, default);
            while (bench.Host.Truth.GapMm > 0.1)
            {
                z -= 0.05;
                await printer.MoveToHeightAsync(z, 60, default);
            }

            printer.DeclareContact(z);
            Assert.Equal(bench.Host.Truth.ContactHeightAt(120, 120) + 0.1, z, 0.06);
            await Assert.ThrowsAsync<MotionRefusedException>(() => printer.MoveToHeightAsync(z - 0.11, 60, default));
            await printer.LiftToClearanceAsync(default);
            await printer.SetSoftLimitsAsync(on: true, default);
            Assert.True(bench.Host.Truth.SoftLimitsOn);
        });

    [Fact]
    public void The_reset_banner_in_the_middle_of_a_move_leaves_only_homing() =>
        SimulatedBench.Run(
            SimulatedBench.Good(),
            async bench =>
            {
                var events = new List<PrinterEvent>();
                bench.Printer.Happened += events.Add;
                await HomeAsync(bench.Printer);
                await Assert.ThrowsAsync<ControllerResetException>(() => TouchAllAsync(bench.Printer));
                Assert.Contains(events, happened => happened is PrinterEvent.ControllerReset);
                Assert.Equal(Axes.None, bench.Printer.Now.Homed);
                await Assert.ThrowsAsync<MotionRefusedException>(() => bench.Printer.TouchAsync(Middle, default));
                await HomeAsync(bench.Printer);
                await bench.Printer.TouchAsync(Middle, default);
            },
            new FaultPlan { ResetAtMotion = 30 });

    [Fact]
    public void A_probe_that_never_triggers_costs_the_allowed_travel_and_a_retract() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await HomeAsync(bench.Printer);
            await bench.Printer.TouchAsync(Middle, default);
            bench.Host.SetProbeDefect(ProbeDefect.NeverTriggers);

            await Assert.ThrowsAsync<TouchFailedException>(() => bench.Printer.TouchAsync(new BedPoint(60, 60), default));

            Assert.False(bench.Host.Truth.PinExtended);
            Assert.True(bench.Printer.Now.Position!.Value.Z >= bench.Printer.Guard.ClearanceZ - 0.01);
        });

    [Fact]
    public void Heaters_are_set_within_their_caps_and_switched_off_and_read_back() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await bench.Printer.SetHeaterTargetsAsync(140, 60, default);
            Assert.Equal((140, 60), bench.Host.Truth.HeaterTargets);
            await bench.Printer.DwellAsync(TimeSpan.FromSeconds(30), default);
            Assert.True((await bench.Printer.ReadTemperaturesAsync(default)).NozzleCelsius > 50);
            Assert.True((await bench.Printer.HeatersOffAsync(default)).HeatersOff);
            Assert.Equal((0, 0), bench.Host.Truth.HeaterTargets);
        });

    [Fact]
    public void A_wait_longer_than_the_controller_s_idle_time_counts_as_a_release_of_the_motors() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await HomeAsync(bench.Printer);
            await Task.Delay(TimeSpan.FromSeconds(500), bench.Time);
            await bench.Printer.TouchAsync(Middle, default);
            await Task.Delay(TimeSpan.FromSeconds(700), bench.Time);
            Assert.Equal(Axes.None, bench.Printer.Now.Homed);
            await Assert.ThrowsAsync<MotionRefusedException>(() => bench.Printer.TouchAsync(Middle, default));
        });

    [Fact]
    public void What_a_controller_lacks_is_found_out_and_said() =>
        SimulatedBench.Run(
            SimulatedBench.Good(controller => controller with { StoresSettings = false, ReportsSettings = false, HasMesh = false, Checksums = false }),
            async bench =>
            {
                ControllerIdentity identity = await bench.Printer.IdentifyAsync(default);
                Assert.Equal((false, false, false), (identity.Abilities.NumberedLines, identity.Abilities.ReadMesh, identity.Abilities.ReportSettings));
                Assert.Empty((await bench.Printer.ReadSettingsAsync(default)).Values);
                Assert.Null(await bench.Printer.ReadMeshAsync(default));
                await HomeAsync(bench.Printer);
                await bench.Printer.TouchAsync(Middle, default);
                await Assert.ThrowsAsync<NotAbleException>(() => bench.Printer.StoreSettingsAsync(default));
                await Assert.ThrowsAsync<NotAbleException>(() => bench.Printer.SetMeshCorrectionAsync(on: true, default));
                Assert.False((await bench.Printer.IdentifyAsync(default)).Abilities.StoreSettings);
            });

    [Fact]
    public void Settings_and_switches_are_read_under_plain_names() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            SettingsReport settings = await bench.Printer.ReadSettingsAsync(default);
            Assert.Equal("400.00 steps/mm", settings.Values["steps per mm Z"]);
            Assert.Contains("probe offset Z", settings.Values.Keys);
            Assert.Contains("idle release", settings.Values.Keys);
            Assert.Equal(ProbeState.Open, await bench.Printer.ReadProbeAsync(default));
            Assert.NotEmpty(bench.Printer.Now.ToString());
        });

    [Fact]
    public void A_halt_stops_everything_until_the_controller_was_reset() =>
        SimulatedBench.Run(SimulatedBench.Good(), async bench =>
        {
            await HomeAsync(bench.Printer);
            Assert.True(bench.Printer.Halt());
            await Task.Delay(TimeSpan.FromSeconds(1), bench.Time);
            Assert.True(bench.Host.Truth.IsHalted);
            await Assert.ThrowsAnyAsync<Exception>(() => bench.Printer.HomeAsync(Axes.All, default));
            bench.Host.PowerCycle();
            await Task.Delay(TimeSpan.FromSeconds(5), bench.Time);
            await HomeAsync(bench.Printer);
        });
}
