using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>What the controller believes: its settings, its coordinates and its modes.</summary>
internal sealed class ControllerState
{
    private readonly Scenario _scenario;
    private readonly PrinterBody _body;

    public ControllerState(Scenario scenario, PrinterBody body)
    {
        _scenario = scenario;
        _body = body;
        Laid = new LaidPlastic(scenario.Person);
        Stored = ControllerSettings.Factory(scenario);
        Live = Stored.Copy();
        Restart();
    }

    /// <summary>What was laid on the plate.</summary>
    public LaidPlastic Laid { get; }

    public ControllerSettings Stored { get; private set; }

    public ControllerSettings Live { get; private set; }

    public bool IsAbsolute { get; set; }

    public bool MeshOn { get; set; }

    public bool SoftLimitsOn { get; set; }

    /// <summary>Live height nudge, mm.</summary>
    public double NudgeMm { get; set; }

    public double Extruded { get; set; }

    /// <summary>Feed of moves, mm/s.</summary>
    public double Feed { get; set; }

    /// <summary>Where queued moves will end, in the controller's coordinates.</summary>
    public Axes3 Commanded { get; set; }

    /// <summary>Motor position minus the controller's coordinates.</summary>
    public Axes3 Shift { get; private set; }

    /// <summary>Seconds between unasked temperature reports; 0 for none.</summary>
    public double ReportSeconds { get; set; }

    /// <summary>What a start leaves: stored settings, nothing homed, correction off, limits on.</summary>
    public void Restart()
    {
        Live = Stored.Copy();
        (IsAbsolute, MeshOn, SoftLimitsOn) = (true, false, true);
        (NudgeMm, Extruded, Feed, ReportSeconds) = (0, 0, 25, 0);
        Commanded = default;
        Shift = _body.Motor;
        _body.Homed = (false, false, false);
        _body.ForgetDatum(Shift.Z);
    }

    public void Store() => Stored = Live.Copy();

    public void Reload() => Live = Stored.Copy();

    /// <summary>Takes an axis as homed with the motors where they are.</summary>
    public void HomedLevel(bool x, bool y)
    {
        var (origin, shift) = ((X: -_scenario.Bed.ControllerOriginX, Y: -_scenario.Bed.ControllerOriginY), Shift);
        Shift = new Axes3(x ? origin.X : shift.X, y ? origin.Y : shift.Y, shift.Z);
        _body.Homed = (_body.Homed.X || x, _body.Homed.Y || y, _body.Homed.Z);
        Sync();
    }

    /// <summary>Takes Z as homed: the motor's Z minus the controller's.</summary>
    public void HomedHeight(double datumZ, double idealDatumZ)
    {
        Shift = Shift with { Z = datumZ };
        NudgeMm = 0;
        _body.SetDatum(datumZ, idealDatumZ);
        _body.Homed = (_body.Homed.X, _body.Homed.Y, true);
        Sync();
    }

    /// <summary>The motors drove against the end of travel: what the controller believes is wrong by that much from now on.</summary>
    public void LoseSteps(Axes3 lost)
    {
        Shift = Shift + lost;
        _body.ForgetDatum(Shift.Z);
    }

    /// <summary>Takes what the motors say as what was commanded, correction and nudge not counted.</summary>
    public void Sync()
    {
        var place = _body.Motor - Shift;
        Commanded = place with { Z = place.Z - Correction(_body.Motor.X, _body.Motor.Y) };
    }

    /// <summary>Where the motors go for a place in the controller's coordinates.</summary>
    public Axes3 MotorFor(Axes3 place)
    {
        var (x, y) = (place.X + Shift.X, place.Y + Shift.Y);
        return new Axes3(x, y, _body.ToStep(place.Z + Shift.Z + Correction(x, y)));
    }

    /// <summary>The place of the probe's tip, as the controller reckons it, that the nozzle's place means, in bed coordinates.</summary>
    public (double X, double Y) NozzleForTip(double tipX, double tipY) => (tipX - Live.OffsetX, tipY - Live.OffsetY);

    private double Correction(double x, double y) =>
        NudgeMm + (MeshOn ? CorrectionMesh.At(_scenario.Mesh, Live.Mesh, x, y) : 0);
}
