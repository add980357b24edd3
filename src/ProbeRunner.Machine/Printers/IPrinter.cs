using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Machine.Printers;

/// <summary>
/// A printer as typed verbs. Every motion passes the motion guard (a refusal is a <c>MotionRefusedException</c>, nothing sent);
/// a motion verb returns when the controller says that the motion has finished. What the link or controller breaks is a typed
/// exception of Transport; what the machine breaks (no trigger, an implausible report) is a <c>MachineException</c>.
/// One verb at a time; only <see cref="Halt"/> and <see cref="InterjectHeatersOff"/> may be called beside another.
/// </summary>
public interface IPrinter : IAsyncDisposable
{
    /// <summary>The machine as its profile describes it.</summary>
    MachineProfile Profile { get; }

    /// <summary>What is known of the machine now.</summary>
    PrinterSnapshot Now { get; }

    /// <summary>The line that switches the stored mesh on, for a slicer's start code, as this controller's dialect writes it; empty when it has none.</summary>
    string MeshStartCodeLine { get; }

    /// <summary>Something happened that nobody asked for: a reset, a temperature report, trouble on the link. Handlers return at once.</summary>
    event Action<PrinterEvent>? Happened;

    /// <summary>Asks the controller what it is and finds out what it can do.</summary>
    Task<ControllerIdentity> IdentifyAsync(CancellationToken cancel);

    /// <summary>Reads all settings; a report without values when the controller has none.</summary>
    Task<SettingsReport> ReadSettingsAsync(CancellationToken cancel);

    /// <summary>The one motion allowed on an unhomed axis: upward by at most the profile's first lift, relative.</summary>
    Task LiftUnhomedAsync(double liftMm, CancellationToken cancel);

    /// <summary>Lets go of all motors, so that axes can be moved by hand; the gantry may sink. Every axis counts as unhomed afterwards.</summary>
    /// <exception cref="NotAbleException">The controller's dialect has no verb for it.</exception>
    Task ReleaseMotorsAsync(CancellationToken cancel);

    /// <summary>Homes axes, from above clearance and clips where the height is known. Homing Z begins a new datum epoch; mesh correction is switched off and read back afterwards.</summary>
    Task HomeAsync(Axes axes, CancellationToken cancel);

    /// <summary>Makes axes count as unhomed: what they were homed to was not the bed (a finger, a switch that stuck). Nothing is sent.</summary>
    void ForgetHoming(Axes axes);

    /// <summary>Moves the nozzle level, at or above the clearance height, to a place in bed coordinates.</summary>
    Task MoveNozzleAsync(BedPoint place, CancellationToken cancel);

    /// <summary>Moves the nozzle to a height in the present epoch; near the bed only in steps of at most 0.1 mm, never below the guard's floor.</summary>
    /// <returns>Where the controller says the nozzle is now: the target itself when the report agrees with it to its decimals.</returns>
    /// <exception cref="PositionDiffersException">The nozzle is somewhere else.</exception>
    Task<NozzlePosition> MoveToHeightAsync(double heightMm, double feedMmPerMin, CancellationToken cancel);

    /// <summary>Lifts straight up to the clearance height and retracts the probe.</summary>
    Task LiftToClearanceAsync(CancellationToken cancel);

    /// <summary>
    /// One touch with the probe's tip at a place in bed coordinates: lift, extend, touch, retract as the profile's probe needs. A report that
    /// is damaged, of another place or surprising is borne out by a second touch first.
    /// </summary>
    /// <exception cref="TouchFailedException">The probe gave no reading; the head was lifted and the probe retracted, where that was safe.</exception>
    Task<Reading> TouchAsync(BedPoint place, CancellationToken cancel);

    /// <summary>
    /// One touch whose report is handed on unjudged, with the position asked for afterwards: for finding out whether the controller reports
    /// what the dialect takes it to.
    /// </summary>
    /// <exception cref="TouchFailedException">The probe gave no reading; the head was lifted and the probe retracted, where that was safe.</exception>
    Task<TouchCheck> CheckTouchAsync(BedPoint place, CancellationToken cancel);

    /// <summary>Brings the probe into its working position; nothing for a probe that has none.</summary>
    /// <exception cref="ProbeFaultException">It did not come out.</exception>
    Task ExtendProbeAsync(CancellationToken cancel);

    /// <summary>Takes the probe out of its working position.</summary>
    Task RetractProbeAsync(CancellationToken cancel);

    /// <summary>Clears a fault that the probe holds, where its kind has one.</summary>
    Task ClearProbeFaultAsync(CancellationToken cancel);

    /// <summary>Asks for the state of the probe's switch.</summary>
    Task<ProbeState> ReadProbeAsync(CancellationToken cancel);

    /// <summary>Asks for the state of all end switches, by their plain names.</summary>
    Task<ImmutableSortedDictionary<string, ProbeState>> ReadSwitchesAsync(CancellationToken cancel);

    /// <summary>Asks for the position; the first labelled set counts.</summary>
    Task<NozzlePosition> ReadPositionAsync(CancellationToken cancel);

    /// <summary>Asks for the stored probe offset.</summary>
    Task<ProbeOffset> ReadProbeOffsetAsync(CancellationToken cancel);

    /// <summary>Sets the probe offset and reads it back. Ends the datum epoch: Z must be homed before it is used again.</summary>
    Task<ProbeOffset> WriteProbeOffsetAsync(ProbeOffset offset, CancellationToken cancel);

    /// <summary>Declares the present offset verified (or not): until then XY clearance is the highest touch + 5 mm.</summary>
    void DeclareOffsetVerified(bool verified);

    /// <summary>
    /// Opens the guard for a step-down at the nozzle's present place: the floor is the trigger height of the last touch here in this epoch,
    /// minus the entered trigger-to-nozzle distance and 0.5 mm, never below the profile's lowest Z.
    /// </summary>
    /// <returns>The lowest height that the guard allows there from now on, mm; a contact declared later may raise it.</returns>
    double BeginStepDown(double triggerHeightMm, double triggerToNozzleMm);

    /// <summary>Tells the guard of a first contact at a height: nothing goes deeper than 0.10 mm below it.</summary>
    void DeclareContact(double heightMm);

    /// <summary>Closes the guard's step-down opening.</summary>
    void EndStepDown();

    /// <summary>
    /// Begins a first layer: the offset must be proven, the mesh on, the nozzle at its temperature. From then on lines may be laid inside
    /// the printable area, from half the layer's height to twice it. <see cref="LiftToClearanceAsync"/> ends it and takes its nudges back.
    /// </summary>
    Task BeginLayingAsync(double layerHeightMm, CancellationToken cancel);

    /// <summary>
    /// Comes straight down at the nozzle's place and lays lines at one height, one after another without a stop. Asked for again at the same height it
    /// goes on from where it is: a row at a time, a nudge or a stop is never later than the row in hand.
    /// </summary>
    /// <exception cref="NotAbleException">The controller's dialect has no verb for it.</exception>
    Task LayAsync(ImmutableArray<LaidLine> lines, double heightMm, double feedMmPerMin, CancellationToken cancel);

    /// <summary>Shifts the nozzle while a first layer is laid: at most 0.02 mm at a time and 0.2 mm in all.</summary>
    /// <param name="byMm">How far, mm, up positive.</param>
    /// <param name="nextLineMm">Height of the line that is laid next, nudges excluded, mm: a nudge that would put it out of bounds is refused.</param>
    /// <param name="cancel">Gives up.</param>
    Task NudgeAsync(double byMm, double nextLineMm, CancellationToken cancel);

    /// <summary>Switches mesh correction and reads it back.</summary>
    Task<bool> SetMeshCorrectionAsync(bool on, CancellationToken cancel);

    /// <summary>Switches the controller's own travel limits and reads that back; off only while a step-down goes below Z = 0, the guard holds on.</summary>
    Task<bool> SetSoftLimitsAsync(bool on, CancellationToken cancel);

    /// <summary>Asks how fast the controller lets Z go at most, touches included, mm/min; null when it does not say.</summary>
    Task<double?> ReadHighestZFeedAsync(CancellationToken cancel);

    /// <summary>Limits how fast Z goes, touches included, mm/min, 10 to 6000, and reads it back; nothing is stored.</summary>
    /// <exception cref="NotAbleException">The controller can't be told.</exception>
    Task<double> LimitZFeedAsync(double feedMmPerMin, CancellationToken cancel);

    /// <summary>Reads the travel that the controller itself allows; null when it does not say.</summary>
    Task<TravelLimits?> ReadTravelLimitsAsync(CancellationToken cancel);

    /// <summary>Reads the controller's mesh; null when it has none or cannot report one.</summary>
    Task<MeshNodes?> ReadMeshAsync(CancellationToken cancel);

    /// <summary>Writes mesh nodes one by one, with correction off, and reads them back; the result is what was read back. Correction stays off.</summary>
    /// <exception cref="NotAbleException">The controller cannot be told nodes.</exception>
    /// <exception cref="ReportsDisagreeException">A node is not what was written.</exception>
    Task<MeshNodes> WriteMeshAsync(MeshNodes mesh, CancellationToken cancel);

    /// <summary>Lets the controller probe a mesh of its own, every node of which must be within the probe's reach, and reads it; correction is off afterwards.</summary>
    /// <exception cref="NotAbleException">The controller's dialect has no verb for it.</exception>
    Task<MeshNodes?> ProbeOwnMeshAsync(CancellationToken cancel);

    /// <summary>The lines that set a mesh's nodes, as this controller's dialect writes them, for a person to copy; empty when it has none. Nothing is sent.</summary>
    ImmutableArray<string> LinesThatSet(MeshNodes mesh);

    /// <summary>Stores the live settings so that they survive a power cut.</summary>
    Task StoreSettingsAsync(CancellationToken cancel);

    /// <summary>Takes the stored settings back, live ones are lost.</summary>
    Task ReloadSettingsAsync(CancellationToken cancel);

    /// <summary>Asks for the temperatures.</summary>
    Task<Temperatures> ReadTemperaturesAsync(CancellationToken cancel);

    /// <summary>Sets heater targets, degC; 0 is off; above the profile's cap is refused, nothing sent.</summary>
    Task SetHeaterTargetsAsync(double? nozzleCelsius, double? bedCelsius, CancellationToken cancel);

    /// <summary>Switches both heaters off and reads that back.</summary>
    Task<Temperatures> HeatersOffAsync(CancellationToken cancel);

    /// <summary>Whether a heater was switched on and not since confirmed off, or the controller says that one is on.</summary>
    bool MayBeHeating { get; }

    /// <summary>
    /// Hands heaters-off to the operating system at once, past whatever is under way, if a heater may be on; nobody learns here whether it
    /// arrived: <see cref="HeatersOffAsync"/> reads it back. May be called beside another verb; never waits, never throws.
    /// </summary>
    /// <returns>Whether it was handed over; false also when no heater can be on.</returns>
    bool InterjectHeatersOff();

    /// <summary>Lets the machine stand still for a time, the controller counting it.</summary>
    Task DwellAsync(TimeSpan time, CancellationToken cancel);

    /// <summary>Waits until the motion in hand has finished and the position is known.</summary>
    Task QuiesceAsync(CancellationToken cancel);

    /// <summary>Sends the halt line past every queue. Never waits, never throws. Afterwards nothing but homing (after a reset) is possible.</summary>
    /// <returns>Whether the operating system took the line.</returns>
    bool Halt();
}
