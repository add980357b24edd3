using CsCheck;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Tests.Printers;

/// <summary>Whatever is asked of a printer, in whatever order: the simulated machine, which knows the truth, is never harmed.</summary>
public sealed class AnythingGoesTests
{
    // Whole thousandths: an even spread, where a generator of doubles favours the ends.
    private static readonly Gen<double> Share = Gen.Int[0, 1000].Select(thousandths => thousandths / 1000.0);

    private static readonly Gen<(int Verb, double A, double B)> Wishes = Gen.Select(Gen.Int[0, 15], Share, Share);

    [Theory]
    [InlineData("good")]
    [InlineData("tilted")]
    [InlineData("heron-good")]
    public void No_order_of_verbs_drags_hits_or_moves_unhomed(string scenario)
    {
        int touches = 0;
        int stepDowns = 0;
        Wishes.Array[20, 60].Sample(
            wishes => SimulatedBench.Run(
                WithoutSag(ScenarioFile.Load(scenario)),
                async bench =>
                {
                    var user = new CarelessUser(bench);
                    await user.DoAsync((0, 0.8, 0));
                    await user.DoAsync((1, 0, 0));
                    foreach ((int Verb, double A, double B) wish in wishes)
                    {
                        await user.DoAsync(wish);
                    }

                    touches += user.Touches;
                    stepDowns += user.StepDowns;
                    RequireUnharmed(bench.Host.Truth);
                },
                requireUnharmed: false),
            iter: 100,
            threads: 1);

        // The law would hold for a printer that refuses everything.
        Assert.True(touches > 100 && stepDowns > 20, $"only {touches} touches and {stepDowns} step-downs");
    }

    /// <summary>A gantry that sinks when the controller lets go of its motors does so by itself: no command does it, so it is no matter of this law.</summary>
    private static Scenario WithoutSag(Scenario scenario) => scenario with { Travel = scenario.Travel with { SagMm = 0 } };

    private static void RequireUnharmed(Truth truth)
    {
        // Straight up or down, but for rounding, is neither dragging nor moving sideways.
        Assert.DoesNotContain(truth.IllegalMoves, move => Math.Abs(move.DX) + Math.Abs(move.DY) > 1e-9 || (move.Kind == IllegalMoveKind.Unhomed && move.DZ < 0));
        Assert.All(truth.Scratches, scratch =>
        {
            // Pressed straight down by at most what is allowed beyond the first contact; never dragged.
            Assert.Equal(0, scratch.LengthMm);
            Assert.InRange(scratch.DepthMm, 0, GuardLimits.DeepestBeyondContactMm + 0.005);
        });
    }

    private sealed class CarelessUser(SimulatedBench bench)
    {
        private readonly Printer _printer = bench.Printer;
        private readonly SimulatedPrinterHost _host = bench.Host;
        private Reading? _last;

        public int Touches { get; private set; }

        public int StepDowns { get; private set; }

        public async Task DoAsync((int Verb, double A, double B) wish)
        {
            try
            {
                await TryAsync(wish.Verb, wish.A, wish.B);
            }
            catch (Exception refused) when (refused is MotionRefusedException or MachineException or ControllerResetException)
            {
                // Refused, or told that the world has changed: a careless user goes on.
            }
        }

        private Task TryAsync(int verb, double a, double b)
        {
            double width = _printer.Profile.Bed.WidthMm;
            double depth = _printer.Profile.Bed.DepthMm;
            var place = new BedPoint((a * (width + 20)) - 10, (b * (depth + 20)) - 10);
            return verb switch
            {
                0 => _printer.LiftUnhomedAsync(a * 6, default),
                1 => HomeAsync(Axes.All),
                2 => HomeAsync(a < 0.5 ? Axes.XY : Axes.Z),
                3 or 4 or 5 or 6 => TouchAsync(place),
                7 => _printer.MoveNozzleAsync(place, default),
                8 => _printer.MoveToHeightAsync((a * 20) - 4, 300, default),
                9 => _printer.LiftToClearanceAsync(default),
                10 => a < 0.5 ? _printer.ExtendProbeAsync(default) : _printer.RetractProbeAsync(default),
                11 => _printer.SetMeshCorrectionAsync(a < 0.5, default),
                12 when a < 0.3 => WriteOffsetAsync(b),
                13 when a < 0.2 => PowerCycleAsync(),
                14 when a < 0.2 => Task.Delay(TimeSpan.FromMinutes(20 * b), bench.Time),
                _ => StepDownAsync(),
            };
        }

        /// <summary>Homing comes after the lift, as the person at the machine is told.</summary>
        private async Task HomeAsync(Axes axes)
        {
            double left = _printer.Profile.Travel.FirstLiftMm - _printer.Guard.State.LiftedUnhomedMm;
            if (!_printer.Now.Homed.HasFlag(Axes.Z) && left >= GuardLimits.LeastLiftMm)
            {
                await _printer.LiftUnhomedAsync(left, default);
            }

            await _printer.HomeAsync(axes, default);
        }

        private async Task TouchAsync(BedPoint place)
        {
            _last = await _printer.TouchAsync(place, default);
            Touches++;
        }

        private Task<ProbeOffset> WriteOffsetAsync(double share)
        {
            ProbeOffset now = _printer.Profile.Probe.Offset;
            return _printer.WriteProbeOffsetAsync(now with { Z = -3 * share }, default);
        }

        private Task PowerCycleAsync()
        {
            _host.PowerCycle();
            return Task.Delay(TimeSpan.FromSeconds(4), bench.Time);
        }

        /// <summary>To the paper and, after it drags, on as far as the guard lets it.</summary>
        private async Task StepDownAsync()
        {
            if (_last is not { } touch || touch.DatumEpoch != _printer.Now.DatumEpoch)
            {
                return;
            }

            await _printer.LiftToClearanceAsync(default);
            await _printer.MoveNozzleAsync(touch.Place, default);
            _printer.BeginStepDown(touch.Z, _printer.Profile.Probe.TriggerToNozzleMm);
            await _printer.SetSoftLimitsAsync(on: false, default);
            double z = _printer.Guard.State.StepDown!.NearBedZ;
            await _printer.MoveToHeightAsync(z, 300, default);
            StepDowns++;
            while (true)
            {
                z -= 0.1;
                await _printer.MoveToHeightAsync(z, 60, default);
                if (_host.Truth.GapMm <= 0.1)
                {
                    _printer.DeclareContact(z);
                }
            }
        }
    }
}
