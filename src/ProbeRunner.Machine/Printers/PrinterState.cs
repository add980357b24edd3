using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Machine.Printers;

/// <summary>What a printer knows of its machine. Verbs and the link's events change it from different threads; every change is atomic.</summary>
internal sealed class PrinterState(MachineProfile profile, TimeProvider time)
{
    /// <summary>The controller's clock is not ours: its idle time is taken to be over a little early.</summary>
    private const double ShareOfIdleTrusted = 0.95;

    private readonly Lock _gate = new();
    private MotionGuard _guard = MotionGuard.For(profile);
    private PrinterSnapshot _snapshot = new(Axes.None, 0, null, false, ProbeState.Unknown, null, null, null, 0);
    private long _lastMotion = time.GetTimestamp();

    /// <summary>The controller's idle time after which it releases its motors; null for never.</summary>
    public TimeSpan? IdleRelease { get; set; }

    /// <summary>The guard as of now: standing still too long counts as a release of the motors.</summary>
    public MotionGuard Guard
    {
        get
        {
            lock (_gate)
            {
                if (_guard.State.Homed != Axes.None && IdleRelease is { } idle && time.GetElapsedTime(_lastMotion) >= idle * ShareOfIdleTrusted)
                {
                    LetGo(_guard.MotorsReleased());
                }

                return _guard;
            }
        }
    }

    /// <summary>What is known now.</summary>
    public PrinterSnapshot Snapshot
    {
        get
        {
            _ = Guard;
            lock (_gate)
            {
                return _snapshot;
            }
        }
    }

    /// <summary>Takes a fact into the guard.</summary>
    public void Apply(Func<MotionGuard, MotionGuard> fact)
    {
        lock (_gate)
        {
            Set(fact(_guard));
        }
    }

    /// <summary>Takes a fact into the snapshot.</summary>
    public void Note(Func<PrinterSnapshot, PrinterSnapshot> fact)
    {
        lock (_gate)
        {
            _snapshot = fact(_snapshot);
        }
    }

    /// <summary>The motors were used just now.</summary>
    public void Moved() => Volatile.Write(ref _lastMotion, time.GetTimestamp());

    /// <summary>The motors are let go on purpose.</summary>
    public void MotorsReleased()
    {
        lock (_gate)
        {
            LetGo(_guard.MotorsReleased());
        }
    }

    /// <summary>The controller started anew, or the link was lost.</summary>
    public void Lost(int resets, bool isHalted)
    {
        lock (_gate)
        {
            LetGo(isHalted ? _guard.Halted() : _guard.Lost());
            _snapshot = _snapshot with { SoftLimitsOn = null, MeshCorrectionOn = null, Temperatures = null, Probe = ProbeState.Unknown, ResetCount = resets };
        }
    }

    /// <summary>A homing of Z has begun an epoch.</summary>
    public void BeginEpoch()
    {
        lock (_gate)
        {
            _snapshot = _snapshot with { DatumEpoch = _snapshot.DatumEpoch + 1 };
        }
    }

    /// <summary>A temperature report came.</summary>
    public void Heard(Temperatures temperatures) => Note(snapshot => snapshot with { Temperatures = temperatures });

    private void LetGo(MotionGuard guard)
    {
        Set(guard);
        _snapshot = _snapshot with { MotorReleases = _snapshot.MotorReleases + 1 };
    }

    private void Set(MotionGuard guard)
    {
        _guard = guard;
        _snapshot = _snapshot with
        {
            Homed = guard.State.Homed,
            Position = guard.State.Position,
            ProbeExtended = guard.State.Probe == ProbePosture.Extended,
        };
    }
}
