using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Printers;

/// <summary>Motion: each verb asks the guard, sends, waits until motion has finished, and confirms where the nozzle is.</summary>
public sealed partial class Printer
{
    /// <summary>How far a report may be from a target and still be the target, rounded, mm.</summary>
    private const double ReportRoundingMm = 0.0101;

    /// <summary>A dwell is sent in pieces, so that a halt is never late, ms.</summary>
    private const double LongestDwellMs = 2000;

    /// <inheritdoc />
    public async Task LiftUnhomedAsync(double liftMm, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        Require(new MotionRequest.LiftUnhomed(liftMm));
        NozzlePosition? before = _state.Guard.State.Position;
        _state.Apply(guard => guard.LiftedUnhomed(liftMm));
        await MoveAsync(Verb.LiftRelative, cancel, ("z", liftMm), ("feed", Profile.Travel.LiftFeedMmPerMin));
        if (before is { } start && _state.Guard.State.Homed.HasFlag(Axes.Z))
        {
            await ConfirmAtAsync(start with { Z = start.Z + liftMm }, cancel);
        }
    }

    /// <inheritdoc />
    public async Task HomeAsync(Axes axes, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        if (_state.Guard.State.Homed.HasFlag(Axes.Z))
        {
            // A homing lifts anyway; what is known to be low is lifted to a height that is known to be enough.
            await RaiseToClearanceAsync(cancel);
            await RaiseOverClipsForHomingAsync(cancel);
        }

        Require(new MotionRequest.Home(axes));
        foreach ((Axes part, Verb verb) in HomingOf(axes))
        {
            // While an axis homes it is not homed: whatever interrupts this must leave it so.
            _state.Apply(guard => guard.Forgotten(part));
            await MoveAsync(verb, cancel);
            _state.Apply(guard => guard.Homed(part));
        }

        if (axes.HasFlag(Axes.Z))
        {
            _state.BeginEpoch();
            await RetractAfterHomingAsync(cancel);
            await SetMeshCorrectionAsync(on: false, cancel);
        }

        await RecoverPositionAsync(cancel);
    }

    /// <inheritdoc />
    public async Task MoveNozzleAsync(BedPoint place, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        place = new BedPoint(Rounded(place.X, Verb.MoveLevel, "x"), Rounded(place.Y, Verb.MoveLevel, "y"));
        await RaiseOverClipsAsync(place, probeOut: false, cancel);
        Require(new MotionRequest.Level(place));
        NozzlePosition at = _state.Guard.State.Position!.Value;
        await GoAsync(
            Verb.MoveLevel,
            at,
            at with { X = place.X, Y = place.Y },
            cancel,
            ("x", place.X + Profile.Bed.ControllerOriginX),
            ("y", place.Y + Profile.Bed.ControllerOriginY),
            ("feed", Profile.Travel.TravelFeedMmPerMin));
    }

    /// <inheritdoc />
    public async Task<NozzlePosition> MoveToHeightAsync(double heightMm, double feedMmPerMin, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        double target = Rounded(heightMm, Verb.MoveHeight, "z");
        Require(new MotionRequest.Height(target, feedMmPerMin));
        NozzlePosition at = _state.Guard.State.Position!.Value;
        return await GoAsync(Verb.MoveHeight, at, at with { Z = target }, cancel, ("z", target), ("feed", feedMmPerMin));
    }

    /// <inheritdoc />
    public async Task LiftToClearanceAsync(CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        await RaiseToClearanceAsync(cancel);
        await EndLayingAsync(cancel);
        if (_state.Guard.State.Probe != ProbePosture.Retracted && _session.Has(Verb.RetractProbe))
        {
            await RetractProbeAsync(cancel);
        }
    }

    /// <inheritdoc />
    public async Task<NozzlePosition> ReadPositionAsync(CancellationToken cancel)
    {
        NozzlePosition position = await AskPositionAsync(cancel);
        GuardState state = _state.Guard.State;
        if (state.Homed.HasFlag(Axes.Z) && !(state.Position is { } known && AreSame(known, position)))
        {
            _state.Apply(guard => guard.At(position));
        }

        return position;
    }

    /// <inheritdoc />
    public async Task DwellAsync(TimeSpan time, CancellationToken cancel)
    {
        for (double left = time.TotalMilliseconds; left >= 1;)
        {
            double piece = Math.Min(left, LongestDwellMs);
            if (_session.Has(Verb.Dwell))
            {
                try
                {
                    await _session.SendAsync(Verb.Dwell, cancel, ("milliseconds", piece));
                    left -= piece;
                    continue;
                }
                catch (NotAbleException)
                {
                    // Known now; the clock on this side does as well.
                }
            }

            await Task.Delay(TimeSpan.FromMilliseconds(piece), _time, cancel);
            left -= piece;
        }
    }

    /// <inheritdoc />
    public async Task QuiesceAsync(CancellationToken cancel)
    {
        await _session.SendAsync(Verb.WaitForMotion, cancel);
        if (_state.Guard.State.Homed.HasFlag(Axes.Z))
        {
            _state.Apply(guard => guard.PositionLost());
            await RecoverPositionAsync(cancel);
        }
    }

    /// <inheritdoc />
    public void DeclareOffsetVerified(bool verified) => _state.Apply(guard => guard.OffsetVerified(verified));

    /// <inheritdoc />
    public double BeginStepDown(double triggerHeightMm, double triggerToNozzleMm)
    {
        _ = _state.Guard;
        _state.Apply(guard => guard.StepDownBegun(triggerHeightMm, triggerToNozzleMm));
        return _state.Guard.StepDownLowestZ;
    }

    /// <inheritdoc />
    public void DeclareContact(double heightMm) => _state.Apply(guard => guard.Contact(heightMm));

    /// <inheritdoc />
    public void EndStepDown() => _state.Apply(guard => guard.StepDownEnded());

    private void Require(MotionRequest request)
    {
        if (_state.Guard.Decide(request) is { } refusal)
        {
            throw new MotionRefusedException(refusal);
        }
    }

    private async Task PrepareMotionAsync(CancellationToken cancel)
    {
        _session.ThrowIfStale();
        await PrepareSessionAsync(cancel);
        if (!_isAbsolute)
        {
            await _session.SendAsync(Verb.Absolute, cancel);
            _isAbsolute = true;
        }

        if (_state.Guard.State is { Position: null } state && state.Homed.HasFlag(Axes.Z))
        {
            await RecoverPositionAsync(cancel);
        }
    }

    /// <summary>Sends a motion and waits until it has finished. However it ends early, the position must be asked for.</summary>
    private async Task<ImmutableArray<string>> MoveAsync(Verb verb, CancellationToken cancel, params (string Name, double Value)[] numbers)
    {
        _state.Apply(guard => guard.PositionLost());
        _isAbsolute = _isAbsolute && verb != Verb.LiftRelative;
        _state.Moved();
        ImmutableArray<string> lines = await _session.SendAsync(verb, cancel, numbers);
        await _session.SendAsync(Verb.WaitForMotion, cancel);
        _state.Moved();
        return lines;
    }

    /// <summary>
    /// Goes from one place to another and confirms it. When it stays open whether the line was carried out, the position decides: there,
    /// it was; still here, it is sent again; anywhere else is a fault.
    /// </summary>
    private async Task<NozzlePosition> GoAsync(
        Verb verb, NozzlePosition from, NozzlePosition to, CancellationToken cancel, params (string Name, double Value)[] numbers)
    {
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                await MoveAsync(verb, cancel, numbers);
                return await ConfirmAtAsync(to, cancel);
            }
            catch (CommandUncertainException) when (attempt < _options.AttemptsToAgree)
            {
                await RecoverPositionAsync(cancel);
                NozzlePosition found = _state.Guard.State.Position!.Value;
                if (AreSame(found, to))
                {
                    _state.Apply(guard => guard.At(to));
                    return to;
                }

                if (!AreSame(found, from))
                {
                    throw new PositionDiffersException(to, found);
                }

                _state.Apply(guard => guard.At(from));
            }
        }
    }

    private async Task RaiseToClearanceAsync(CancellationToken cancel)
    {
        MotionGuard guard = _state.Guard;
        double clearance = Math.Min(Math.Ceiling(guard.ClearanceZ * 100) / 100, Profile.Travel.HighestZ);
        double mesh = Math.Min(0, guard.State.Mesh?.Lowest ?? 0);
        if (guard.State.Position is not { } at || at.Z + mesh < guard.ClearanceZ)
        {
            await MoveToHeightAsync(clearance - mesh, Profile.Travel.LiftFeedMmPerMin, cancel);
        }
    }

    /// <summary>Where level travel would meet a clip, it goes higher; what is too low for level travel at all stays refused.</summary>
    private async Task RaiseOverClipsAsync(BedPoint target, bool probeOut, CancellationToken cancel)
    {
        MotionGuard guard = _state.Guard;
        if (guard.State.Homed == Axes.All
            && guard.State.Position is { } at
            && at.Z >= guard.ClearanceZ - ReportRoundingMm
            && guard.MeetsClip(at, target, probeOut))
        {
            double z = Math.Min(Math.Ceiling(guard.OverClipsZ * 100) / 100, Profile.Travel.HighestZ);
            await MoveToHeightAsync(Math.Max(z, at.Z), Profile.Travel.LiftFeedMmPerMin, cancel);
        }
    }

    /// <summary>Which way a homing takes only the controller knows: where there are clips, it starts above them.</summary>
    private async Task RaiseOverClipsForHomingAsync(CancellationToken cancel)
    {
        MotionGuard guard = _state.Guard;
        double z = Math.Min(guard.OverClipsZ, Profile.Travel.HighestZ);
        if (!Profile.Bed.Clips.IsEmpty && guard.State.Position is { } at && at.Z < z)
        {
            await MoveToHeightAsync(z, Profile.Travel.LiftFeedMmPerMin, cancel);
        }
    }

    /// <summary>Confirms a target: one report that agrees with it is enough, two that agree with each other and not with it are a fault.</summary>
    private async Task<NozzlePosition> ConfirmAtAsync(NozzlePosition target, CancellationToken cancel)
    {
        NozzlePosition? differing = null;
        for (int asked = 0; asked < _options.AttemptsToAgree; asked++)
        {
            if (await PositionOnceAsync(cancel) is not { } found)
            {
                continue;
            }

            if (AreSame(found, target))
            {
                _state.Apply(guard => guard.At(target));
                return target;
            }

            if (differing is { } earlier && AreSame(found, earlier))
            {
                _state.Apply(guard => guard.At(found));
                throw new PositionDiffersException(target, found);
            }

            differing = found;
        }

        throw new ReportUnreadableException("the position", string.Empty);
    }

    /// <summary>After a doubt: waits until nothing moves, then asks until two reports agree.</summary>
    private async Task RecoverPositionAsync(CancellationToken cancel)
    {
        if (!_state.Guard.State.Homed.HasFlag(Axes.Z))
        {
            return;
        }

        await _session.SendAsync(Verb.WaitForMotion, cancel);
        NozzlePosition position = await AskPositionAsync(cancel);
        _state.Apply(guard => guard.At(position));
    }

    private async Task<NozzlePosition> AskPositionAsync(CancellationToken cancel)
    {
        var seen = new List<NozzlePosition>();
        for (int asked = 0; asked < _options.AttemptsToAgree; asked++)
        {
            if (await PositionOnceAsync(cancel) is not { } found)
            {
                continue;
            }

            if (seen.Any(earlier => AreSame(earlier, found)))
            {
                return found;
            }

            seen.Add(found);
        }

        throw new ReportUnreadableException("the position", string.Empty);
    }

    private async Task<NozzlePosition?> PositionOnceAsync(CancellationToken cancel)
    {
        ImmutableArray<string> lines = await _session.SendAsync(Verb.Position, cancel);
        return _reader.Position(lines) is { } found
            ? new NozzlePosition(found.X - Profile.Bed.ControllerOriginX, found.Y - Profile.Bed.ControllerOriginY, found.Z)
            : null;
    }

    private double Rounded(double value, Verb verb, string parameter) =>
        double.IsFinite(value) ? Math.Round(value, _dialect.DecimalsOf(verb, parameter)) : value;

    private static bool AreSame(NozzlePosition one, NozzlePosition other) =>
        Math.Abs(one.X - other.X) <= ReportRoundingMm
        && Math.Abs(one.Y - other.Y) <= ReportRoundingMm
        && Math.Abs(one.Z - other.Z) <= ReportRoundingMm;

    private IEnumerable<(Axes Part, Verb Verb)> HomingOf(Axes axes)
    {
        if (axes == Axes.All && _session.Has(Verb.HomeAll))
        {
            yield return (Axes.All, Verb.HomeAll);
            yield break;
        }

        if (axes.HasFlag(Axes.XY))
        {
            yield return (Axes.XY, Verb.HomeXY);
        }
        else if (axes.HasFlag(Axes.X))
        {
            yield return (Axes.X, Verb.HomeX);
        }
        else if (axes.HasFlag(Axes.Y))
        {
            yield return (Axes.Y, Verb.HomeY);
        }

        if (axes.HasFlag(Axes.Z))
        {
            yield return (Axes.Z, Verb.HomeZ);
        }
    }
}
