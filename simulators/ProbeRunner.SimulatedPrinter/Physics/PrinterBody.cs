using ProbeRunner.SimulatedPrinter.Chance;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>
/// The machine itself, without its controller: where things really are. X and Y are the nozzle's place in bed coordinates; Z
/// is the height of a cold nozzle above a flat, level, cold plate. Nothing here knows what the controller believes, except
/// <see cref="DatumZ"/>, which turns heights into the controller's for the record.
/// </summary>
internal sealed class PrinterBody
{
    private const double LowestMotorZ = -8;

    private readonly Scenario _scenario;
    private readonly BedShape _shape;
    private readonly PathWatch _watch;
    private readonly List<TrueTouch> _touches = [];
    private readonly List<double> _datumErrorsMm = [];
    private double _nozzleZ;
    private long _releases;

    public PrinterBody(Scenario scenario)
    {
        _scenario = scenario;
        _shape = new BedShape(scenario.Bed);
        Screws = new ScrewSet(scenario.Screws);
        Expansion = new Expansion(scenario.Heat, scenario.Bed.DriftMmPerHour);
        Probe = new ProbeTip(scenario.Probe, scenario.Seed);
        ResidueMm = scenario.Person.ResidueMm;
        GantryDifferenceMm = scenario.Travel.GantryDifferenceMm;
        Motor = new Axes3(
            Range(scenario.Travel.MinX, scenario.Travel.MaxX, 1), Range(scenario.Travel.MinY, scenario.Travel.MaxY, 2), Range(4, 20, 3));
        _nozzleZ = Motor.Z;
        _watch = new PathWatch(scenario, this, _shape);
    }

    public ScrewSet Screws { get; }

    public Expansion Expansion { get; }

    public ProbeTip Probe { get; }

    /// <summary>Where the motors have turned the axes to.</summary>
    public Axes3 Motor { get; private set; }

    /// <summary>The last move's direction and length.</summary>
    public Axes3 LastMove { get; private set; }

    /// <summary>Whether the motors hold their axes; a hand can push them otherwise.</summary>
    public bool MotorsHold { get; private set; }

    /// <summary>Motor Z minus the controller's Z.</summary>
    public double DatumZ { get; private set; }

    /// <summary>Axes whose place the controller knows.</summary>
    public (bool X, bool Y, bool Z) Homed { get; set; }

    /// <summary>The blob under the nozzle, mm.</summary>
    public double ResidueMm { get; set; }

    /// <summary>What happened on the way: contacts, scratches, illegal moves.</summary>
    public PathWatch Watch => _watch;

    public IReadOnlyList<TrueTouch> Touches => _touches;

    /// <summary>The probe triggered.</summary>
    public event Action<TrueTouch>? Touched;

    public IReadOnlyList<double> DatumErrorsMm => _datumErrorsMm;

    /// <summary>Touches beyond this many are no longer kept, so that a long night needs no memory.</summary>
    public int TouchesKept { get; set; } = 200_000;

    /// <summary>The probe's true place seen from the nozzle, mm.</summary>
    public (double X, double Y) ProbeOffset => (_scenario.Probe.OffsetX, _scenario.Probe.OffsetY);

    private double Backlash => _scenario.Travel.BacklashZMm;

    /// <summary>How much higher than the left one the gantry's right end stands, over the bed's width, mm.</summary>
    public double GantryDifferenceMm { get; set; }

    /// <summary>
    /// The plate's height now, mm, above the plane that the gantry goes along: nozzle and probe turn with a crooked gantry, so to both of
    /// them it is the plate that is tilted.
    /// </summary>
    public double PlateAt(double x, double y) =>
        _shape.HeightAt(x, y) + Screws.RaisedAt(x, y) + Expansion.BedMm(_shape.U(x), _shape.V(y)) - (GantryDifferenceMm / 2 * _shape.U(x));

    /// <summary>From the nozzle's tip (its blob not counted) to the plate under it, mm; negative in the plate.</summary>
    public double GapMm => GapAt(Motor.X, Motor.Y, _nozzleZ);

    /// <summary>The nozzle's Z (motor, moving down) at a trigger without noise, with the nozzle at a place; minus infinity off the plate.</summary>
    public double TrueTriggerZ(double nozzleX, double nozzleY)
    {
        var (x, y) = (nozzleX + _scenario.Probe.OffsetX, nozzleY + _scenario.Probe.OffsetY);
        if (x < 0 || y < 0 || x > _scenario.Bed.WidthMm || y > _scenario.Bed.DepthMm)
        {
            return double.NegativeInfinity;
        }

        return PlateAt(x, y) + ClipAt(x, y) + TriggerDistance(nozzleX, nozzleY) - Backlash;
    }

    /// <summary>The nozzle's Z (motor, moving down) at which it touches the plate at a place.</summary>
    public double TrueContactZ(double x, double y) => PlateAt(x, y) + Expansion.NozzleMm - Backlash;

    /// <summary>Moves down until the probe triggers.</summary>
    /// <param name="lowestMotorZ">Where to give up.</param>
    /// <param name="feed">How fast it comes down, mm/s.</param>
    /// <param name="isHoming">For the record.</param>
    /// <returns>Where the motor will stop, and whether by a trigger.</returns>
    public (double MotorZ, bool Triggered) FindTrigger(double lowestMotorZ, double feed, bool isHoming)
    {
        if (Probe.FingerWaits && Probe.CanFeel)
        {
            Probe.FingerWaits = isHoming;
            return (Motor.Z - Math.Min(2, Motor.Z / 2), true);
        }

        if (Probe.Defect == ProbeDefect.NeverTriggers || !Probe.IsExtended)
        {
            return (lowestMotorZ, false);
        }

        var exact = TrueTriggerZ(Motor.X, Motor.Y);
        var stop = DownToStep(exact + Probe.NextErrorMm(feed, Math.Max(0, Motor.Z - exact) / feed));
        if (stop < lowestMotorZ)
        {
            return (lowestMotorZ, false);
        }

        stop = Math.Min(stop, Motor.Z);
        var (x, y) = (Motor.X + _scenario.Probe.OffsetX, Motor.Y + _scenario.Probe.OffsetY);
        var touch = new TrueTouch(Probe.Touches, _datumErrorsMm.Count, x, y, exact - DatumZ, stop - DatumZ, Expansion.Seconds, isHoming);
        if (_touches.Count < TouchesKept)
        {
            _touches.Add(touch);
        }

        Touched?.Invoke(touch);
        return (stop, true);
    }

    /// <summary>Moves, as far as the machine lets it, and lets the time for it pass.</summary>
    /// <param name="target">Where the motors are told to go.</param>
    /// <param name="seconds">How long it takes.</param>
    /// <param name="isHoming">Whether this is the controller's own search for its places, which may move unhomed axes.</param>
    /// <returns>What the motors could not do, driving against the end of travel: reached minus told.</returns>
    public Axes3 Move(Axes3 target, double seconds, bool isHoming)
    {
        var reached = WithinTravel(target);
        var start = Motor;
        var wasAt = _nozzleZ;
        var asked = target - start;
        MotorsHold = true;
        Motor = reached;
        _nozzleZ = Math.Clamp(_nozzleZ, Motor.Z, Motor.Z + Backlash);
        var moved = reached - start;
        if (moved != default)
        {
            LastMove = moved;
        }

        if (!isHoming)
        {
            _watch.Judge(asked, reached != target);
        }

        _watch.Follow(start with { Z = wasAt }, Motor with { Z = _nozzleZ });
        Expansion.Advance(seconds);
        return reached - target;
    }

    /// <summary>Releases the motors: the gantry sinks a little.</summary>
    public void ReleaseMotors()
    {
        Homed = (false, false, false);
        MotorsHold = false;
        var sunk = _scenario.Travel.SagMm * KeyedNoise.Uniform(_scenario.Seed, NoiseKind.Sag, ++_releases);
        Motor = Motor with { Z = Math.Max(Motor.Z - sunk, LowestMotorZ) };
        _nozzleZ -= sunk;
        GantryDifferenceMm += _scenario.Travel.GantryReleaseSdMm * KeyedNoise.Normal(_scenario.Seed, NoiseKind.GantryRelease, _releases);
    }

    /// <summary>The controller has taken a new Z: records the datum's error against a homing without noise.</summary>
    /// <param name="datumZ">Motor Z minus the controller's Z from now on.</param>
    /// <param name="idealDatumZ">The same, had nothing been noisy.</param>
    public void SetDatum(double datumZ, double idealDatumZ)
    {
        DatumZ = datumZ;
        _datumErrorsMm.Add(datumZ - idealDatumZ);
    }

    /// <summary>The controller's Z after a reset, when it knows nothing.</summary>
    public void ForgetDatum(double datumZ) => DatumZ = datumZ;

    /// <summary>The nearest place of Z that the motor has a step for.</summary>
    public double ToStep(double motorZ) => Math.Round(motorZ * _scenario.Travel.StepsPerMmZ) / _scenario.Travel.StepsPerMmZ;

    private double DownToStep(double motorZ) =>
        double.IsFinite(motorZ) ? Math.Floor(motorZ * _scenario.Travel.StepsPerMmZ) / _scenario.Travel.StepsPerMmZ : motorZ;

    private double TriggerDistance(double nozzleX, double nozzleY) =>
        Probe.TriggerDistanceMm(nozzleX - (_scenario.Bed.WidthMm / 2), nozzleY - (_scenario.Bed.DepthMm / 2));

    /// <summary>From a nozzle at a place and height to the plate under it, mm.</summary>
    public double GapAt(double x, double y, double nozzleZ) => nozzleZ - Expansion.NozzleMm - PlateAt(x, y);

    /// <summary>How far a clip stands above the plate at a place, mm; 0 where there is none.</summary>
    public double ClipAt(double x, double y)
    {
        foreach (var clip in _scenario.Bed.Clips)
        {
            if (clip.Covers(x, y))
            {
                return _scenario.Bed.ClipHeightMm;
            }
        }

        return 0;
    }

    private Axes3 WithinTravel(Axes3 target) => new(
        Math.Clamp(target.X, _scenario.Travel.MinX, _scenario.Travel.MaxX),
        Math.Clamp(target.Y, _scenario.Travel.MinY, _scenario.Travel.MaxY),
        Math.Clamp(target.Z, LowestMotorZ, _scenario.Travel.HighestZ + 5));

    private double Range(double from, double to, long ordinal) =>
        from + ((to - from) * KeyedNoise.Uniform(_scenario.Seed, NoiseKind.StartPlace, ordinal));
}
