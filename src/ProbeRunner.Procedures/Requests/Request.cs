using System.Text.Json.Serialization;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Procedures.Requests;

/// <summary>
/// One thing a step asks of the outside world. Its JSON is what the journal keeps and what a resumed run is compared with,
/// so a request holds everything that decides what is done, and nothing else.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Identify), FactKinds.Identify)]
[JsonDerivedType(typeof(ReadSettings), "read-settings")]
[JsonDerivedType(typeof(LookAtMachine), "look-at-machine")]
[JsonDerivedType(typeof(ReadProbeOffset), "read-probe-offset")]
[JsonDerivedType(typeof(WriteProbeOffset), "write-probe-offset")]
[JsonDerivedType(typeof(DeclareOffsetVerified), "declare-offset-verified")]
[JsonDerivedType(typeof(StoreSettings), "store-settings")]
[JsonDerivedType(typeof(ReloadSettings), "reload-settings")]
[JsonDerivedType(typeof(KeepLiveSettings), "keep-live-settings")]
[JsonDerivedType(typeof(KeepSwitches), "keep-switches")]
[JsonDerivedType(typeof(ReadMesh), "read-mesh")]
[JsonDerivedType(typeof(WriteMesh), "write-mesh")]
[JsonDerivedType(typeof(ProbeOwnMesh), "probe-own-mesh")]
[JsonDerivedType(typeof(SwitchMeshCorrection), "switch-mesh-correction")]
[JsonDerivedType(typeof(SwitchSoftLimits), "switch-soft-limits")]
[JsonDerivedType(typeof(ReadTravelLimits), "read-travel-limits")]
[JsonDerivedType(typeof(ReadSwitches), "read-switches")]
[JsonDerivedType(typeof(ReadProbe), "read-probe")]
[JsonDerivedType(typeof(ExtendProbe), "extend-probe")]
[JsonDerivedType(typeof(RetractProbe), "retract-probe")]
[JsonDerivedType(typeof(ClearProbeFault), "clear-probe-fault")]
[JsonDerivedType(typeof(TryProbe), "try-probe")]
[JsonDerivedType(typeof(LiftUnhomed), "lift-unhomed")]
[JsonDerivedType(typeof(HomeAxes), "home")]
[JsonDerivedType(typeof(ForgetHoming), "forget-homing")]
[JsonDerivedType(typeof(ReleaseMotors), "release-motors")]
[JsonDerivedType(typeof(MoveNozzle), "move-nozzle")]
[JsonDerivedType(typeof(MoveToHeight), "move-to-height")]
[JsonDerivedType(typeof(LiftToClearance), "lift-to-clearance")]
[JsonDerivedType(typeof(ReadHighestZFeed), "read-highest-z-feed")]
[JsonDerivedType(typeof(LimitZFeed), "limit-z-feed")]
[JsonDerivedType(typeof(LiftHigher), "lift-higher")]
[JsonDerivedType(typeof(TouchAt), FactKinds.Touch)]
[JsonDerivedType(typeof(CheckTouch), "check-touch")]
[JsonDerivedType(typeof(OpenStepDown), "open-step-down")]
[JsonDerivedType(typeof(DeclareContact), "declare-contact")]
[JsonDerivedType(typeof(CloseStepDown), "close-step-down")]
[JsonDerivedType(typeof(BeginLaying), "begin-laying")]
[JsonDerivedType(typeof(LayLines), "lay-lines")]
[JsonDerivedType(typeof(SetHeaterTargets), "set-heater-targets")]
[JsonDerivedType(typeof(StandStill), "stand-still")]
[JsonDerivedType(typeof(KeepSilent), "keep-silent")]
[JsonDerivedType(typeof(ReadTemperatures), "read-temperatures")]
[JsonDerivedType(typeof(TryHalt), "try-halt")]
[JsonDerivedType(typeof(MeetAgain), "meet-again")]
[JsonDerivedType(typeof(ReadSoak), "read-soak")]
[JsonDerivedType(typeof(ReadRunClock), "read-run-clock")]
[JsonDerivedType(typeof(AskPerson), FactKinds.Ask)]
public abstract record Request
{
    /// <summary>What kind of work it is, for time left.</summary>
    internal virtual WorkKind Work => WorkKind.Exchange;

    /// <summary>Whether it moves the machine or changes it, and so belongs into a section.</summary>
    internal virtual bool IsPhysical => false;

    /// <summary>Whether the machine has part in it at all.</summary>
    internal virtual bool MeetsMachine => true;

    /// <summary>Whether the person waits for it or is waited for: a hold or stop need not wait until it is done.</summary>
    internal virtual bool CanBeLeft => false;

    /// <summary>Axes that must be homed before it.</summary>
    internal virtual Axes NeedsHomed => Axes.None;

    /// <summary>How long the machine may be too busy with it to report its temperatures: the deadlines of its commands, retries included.</summary>
    internal virtual TimeSpan LongestSilence => Work switch
    {
        WorkKind.Touch or WorkKind.Homing => TimeSpan.FromMinutes(6),
        WorkKind.Motion => TimeSpan.FromMinutes(4),
        _ => TimeSpan.FromSeconds(30),
    };

    /// <summary>The state after a recorded reply.</summary>
    internal abstract MachineState AfterRecorded(MachineState before, string reply);
}

/// <summary>A request with the type of its reply.</summary>
/// <typeparam name="TReply">What comes back; plain data, kept as JSON.</typeparam>
public abstract record Request<TReply> : Request
{
    /// <summary>Does it.</summary>
    internal abstract Task<TReply> PerformAsync(Instruments with, CancellationToken cancel);

    /// <summary>The state the machine is in afterwards, as far as the run can know; also used over recorded facts.</summary>
    internal virtual MachineState After(MachineState before, TReply reply) => before;

    internal sealed override MachineState AfterRecorded(MachineState before, string reply) => After(before, JournalJson.Read<TReply>(reply));
}

/// <summary>The reply of a request that has nothing to tell but that it was done.</summary>
public readonly record struct Done;
