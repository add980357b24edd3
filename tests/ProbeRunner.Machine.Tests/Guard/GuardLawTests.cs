using CsCheck;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Tests.Guard;

/// <summary>
/// Laws over random sequences of requests and facts. A bookkeeper of its own, simpler than the guard, follows what was really done and
/// checks every allowed motion against it.
/// </summary>
public sealed class GuardLawTests
{
    private static readonly MachineProfile Wren = Shipped.Wren;

    private static readonly Gen<Deed> Deeds = Gen.Select(
        Gen.Int[0, 19],
        Gen.OneOf(Gen.Double[-6, 12], Gen.Double[-1.5, 1.5], Gen.Const(double.NaN), Gen.Double[0, 300]),
        Gen.OneOf(Gen.Double[-20, 270], Gen.Const(120.0)),
        Gen.OneOf(Gen.Double[-20, 270], Gen.Const(120.0)),
        (kind, height, x, y) => new Deed(kind, height, x, y));

    [Fact]
    public void No_sequence_of_allowed_motions_breaks_a_law() =>
        Deeds.Array[5, 120].Sample(deeds =>
        {
            var book = new Bookkeeper();
            foreach (Deed deed in deeds)
            {
                book.Do(deed);
            }
        }, iter: 3000);

    [Fact]
    public void No_sequence_of_steps_and_answers_goes_below_the_floor_or_beyond_contact() =>
        Gen.Select(Gen.Double[0.5, 4], Gen.Double[0, 2.8], Gen.Select(Gen.Double[-0.15, 0.03], Gen.Int[0, 60]).Array[10, 300]).Sample((trigger, distance, answers) =>
        {
            MotionGuard guard = MotionGuard.For(Wren).Homed(Axes.All).ProbeIs(ProbePosture.Retracted).MeshIs(MeshInForce.Off)
                .Touched(new BedPoint(120, 120), trigger)
                .At(new NozzlePosition(120, 120, 12))
                .StepDownBegun(trigger, distance);
            double z = 12;
            double contact = double.NegativeInfinity;
            foreach ((double step, int answer) in answers)
            {
                // Coarse first, then whatever the operator answers.
                double target = z > trigger + 1 ? trigger - distance + 1.0 : z + step;
                if (guard.Decide(new MotionRequest.Height(target, 60)) is null)
                {
                    Assert.True(target >= Math.Max(trigger - distance - 0.5, Wren.Travel.LowestZ) - 0.001);
                    Assert.True(target >= contact - 0.101);
                    Assert.True(z - target <= 0.1001 || target >= trigger - distance + 1.0 - 0.001);
                    z = target;
                    guard = guard.At(new NozzlePosition(120, 120, z));
                }

                if (answer == 0)
                {
                    contact = Math.Max(contact, z);
                    guard = guard.Contact(z);
                }
            }
        }, iter: 2000);

    private sealed record Deed(int Kind, double Height, double X, double Y);

    /// <summary>Follows what really happened, by rules simpler and stricter than the guard's own bookkeeping.</summary>
    private sealed class Bookkeeper
    {
        private MotionGuard _guard = MotionGuard.For(Wren);
        private bool _xyHomed;
        private bool _zHomed;
        private bool _halted;
        private double _lifted;
        private NozzlePosition _at = new(0, 0, 3);
        private double? _highestTouch;
        private double _homingTrigger;
        private bool _pinIn;
        private double _offsetZ = Wren.Probe.Offset.Z;
        private readonly Dictionary<BedPoint, double> _touches = [];

        public void Do(Deed deed)
        {
            switch (deed.Kind)
            {
                case 0:
                    Lift(deed.Height);
                    break;
                case 1 or 2 or 3:
                    Home(deed.Kind switch { 1 => Axes.All, 2 => Axes.XY, _ => Axes.Z });
                    break;
                case 4 or 5:
                    Level(new BedPoint(deed.X, deed.Y));
                    break;
                case 6 or 7 or 8 or 9:
                    Height(deed.Kind == 6 ? _at.Z - 0.05 : deed.Kind == 7 ? _guard.ClearanceZ + 1 : deed.Height);
                    break;
                case 10 or 11:
                    Touch(new BedPoint(deed.X, deed.Y), deed.Height);
                    break;
                case 12:
                    _guard = _guard.Lost();
                    Lose();
                    _halted = false;
                    _pinIn = false;
                    break;
                case 13:
                    _guard = _guard.Halted();
                    Lose();
                    _halted = true;
                    _pinIn = false;
                    break;
                case 14:
                    _guard = _guard.MotorsReleased();
                    Lose();
                    break;
                case 15:
                    if (double.IsFinite(deed.Height))
                    {
                        _offsetZ = Math.Clamp(deed.Height, -5, 5);
                        _guard = _guard.OffsetWritten(new ProbeOffset(-38, -9, _offsetZ));
                        _zHomed = false;
                        _lifted = 0;
                    }

                    break;
                case 16:
                    _guard = _guard.ProbeIs(ProbePosture.Retracted);
                    _pinIn = true;
                    break;
                case 17:
                    _guard = _guard.ProbeIs(ProbePosture.Extended);
                    _pinIn = false;
                    break;
                default:
                    StepDown(deed.Height);
                    break;
            }
        }

        private void Lift(double by)
        {
            if (_guard.Decide(new MotionRequest.LiftUnhomed(by)) is null)
            {
                Assert.False(_halted);
                Assert.True(by > 0);
                if (!_zHomed)
                {
                    _lifted += by;
                    Assert.True(_lifted <= Wren.Travel.FirstLiftMm + 0.001);
                }

                _guard = _guard.LiftedUnhomed(by);
                Settle(_at with { Z = _at.Z + by });
            }
        }

        private void Home(Axes axes)
        {
            if (_guard.Decide(new MotionRequest.Home(axes)) is null)
            {
                Assert.False(_halted);
                Assert.True(axes != Axes.Z || _xyHomed);
                Assert.True(!_zHomed || _at.Z >= Clearance() - 0.01);
                _guard = _guard.Homed(axes);
                _xyHomed |= axes.HasFlag(Axes.XY);
                _lifted = 0;
                if (axes.HasFlag(Axes.Z))
                {
                    _zHomed = true;
                    _homingTrigger = -_offsetZ;
                    _highestTouch = null;
                    _touches.Clear();
                    _pinIn = true;
                    _guard = _guard.MeshIs(MeshInForce.Off).ProbeIs(ProbePosture.Retracted);
                    Settle(new NozzlePosition(158, 129, _homingTrigger + 5));
                }
                else
                {
                    Settle(_at);
                }
            }
        }

        private void Level(BedPoint target)
        {
            if (_guard.Decide(new MotionRequest.Level(target)) is null)
            {
                RequireHomed();
                Assert.True(_at.Z >= Clearance() - 0.01);
                Assert.InRange(target.X, -0.001, 240.001);
                Assert.InRange(target.Y, -0.001, 240.001);
                RequireClearOfClips(target);
                Settle(new NozzlePosition(target.X, target.Y, _at.Z));
            }
        }

        private void Height(double target)
        {
            if (_guard.Decide(new MotionRequest.Height(target, 60)) is not null)
            {
                return;
            }

            Assert.False(_halted);
            Assert.True(_zHomed);
            Assert.True(double.IsFinite(target));
            Assert.True(target <= Wren.Travel.HighestZ + 0.001);
            if (target < _at.Z)
            {
                RequireHomed();
                Assert.True(target >= Wren.Travel.LowestZ - 0.001);
                if (target < Clearance() - 0.01)
                {
                    Assert.True(_pinIn);
                    var touched = _touches.Where(touch => touch.Key.DistanceTo(new BedPoint(_at.X, _at.Y)) <= 0.5).ToList();
                    Assert.NotEmpty(touched);
                    double trigger = touched.Max(touch => touch.Value);
                    Assert.True(target >= trigger - Wren.Probe.ExtendedBelowNozzleMm - 0.5 - 0.001);
                    Assert.True(_at.Z - target <= 0.1001 || target >= trigger - Wren.Probe.ExtendedBelowNozzleMm + 1.0 - 0.001);
                }
            }

            Settle(_at with { Z = target });
        }

        private void Touch(BedPoint place, double z)
        {
            if (_guard.Decide(new MotionRequest.Touch(place)) is null)
            {
                RequireHomed();
                Assert.True(_at.Z >= Clearance() - 0.01);
                Assert.InRange(place.X, 5, 202);
                Assert.InRange(place.Y, 5, 231);
                Assert.DoesNotContain(Wren.Bed.Clips, clip => clip.Contains(place) || clip.Contains(new BedPoint(place.X + 38, place.Y + 9)));
                RequireClearOfClips(new BedPoint(place.X + 38, place.Y + 9));
                double found = double.IsFinite(z) ? Math.Clamp(z, -1, 4) : 1;
                _touches[place] = found;
                _highestTouch = Math.Max(found, _highestTouch ?? found);
                _pinIn = true;
                _guard = _guard.Touched(place, found).ProbeIs(ProbePosture.Retracted);
                Settle(new NozzlePosition(place.X + 38, place.Y + 9, Math.Max(_at.Z, found + 5)));
            }
        }

        private void StepDown(double distance)
        {
            if (_touches.Count > 0 && _zHomed && _xyHomed && _at.Z >= Clearance())
            {
                BedPoint place = _touches.Keys.First();
                Level(place);
                try
                {
                    _guard = _guard.StepDownBegun(_touches[place], distance);
                    Assert.InRange(distance, 0, Wren.Probe.ExtendedBelowNozzleMm);
                    Height(_touches[place] - distance + 1.0);
                }
                catch (MotionRefusedException)
                {
                    // Refused: nothing was opened.
                }
            }
        }

        private void Settle(NozzlePosition position)
        {
            _at = position;
            if (_zHomed)
            {
                _guard = _guard.At(position);
            }
        }

        /// <summary>Walks the way in small steps: no step is over a clip while the nozzle is lower than the clip.</summary>
        private void RequireClearOfClips(BedPoint target)
        {
            double bed = Math.Max(_homingTrigger, _highestTouch ?? _homingTrigger) - Wren.Probe.TriggerToNozzleMm;
            for (double share = 0; share <= 1 && _at.Z < bed + Wren.Bed.ClipHeightMm; share += 0.005)
            {
                var step = new BedPoint(_at.X + (share * (target.X - _at.X)), _at.Y + (share * (target.Y - _at.Y)));
                Assert.DoesNotContain(Wren.Bed.Clips, clip => clip.Contains(step));
            }
        }

        private void RequireHomed()
        {
            Assert.False(_halted);
            Assert.True(_xyHomed);
            Assert.True(_zHomed);
        }

        private void Lose()
        {
            _xyHomed = false;
            _zHomed = false;
            _lifted = 0;
        }

        private double Clearance() => Math.Max(_homingTrigger, _highestTouch ?? _homingTrigger) + 5;
    }
}
