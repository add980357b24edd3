using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Printers;

/// <summary>Touches, and when a reading needs a second one to be believed.</summary>
public sealed partial class Printer
{
    /// <summary>How far a touch report's place may be from the place asked for, mm; farther, it is another place's.</summary>
    private const double SameTouchMm = 0.02;

    private const int FewestForSeries = 4;

    private readonly List<GuardTouch> _lately = [];
    private int _latelyEpoch;
    private int _touchesInDoubt;

    /// <inheritdoc />
    public async Task<Reading> TouchAsync(BedPoint place, CancellationToken cancel)
    {
        place = new BedPoint(Rounded(place.X, Verb.Touch, "x"), Rounded(place.Y, Verb.Touch, "y"));
        (double first, bool wasDoubtful) = await TouchUntilReadableAsync(place, cancel);
        bool isSuspect = wasDoubtful || _options.ConfirmEveryReading || _touchesInDoubt > 0 || IsSurprising(place, first);
        double z = isSuspect ? await ConfirmAsync(place, first, cancel) : first;
        _touchesInDoubt = Math.Max(0, _touchesInDoubt - 1);
        Remember(place, z);
        bool isFlagged = isSuspect && !(_options.ConfirmEveryReading && !wasDoubtful && z == first);
        return new Reading(place, z, Stamp(), Now.DatumEpoch, isFlagged);
    }

    /// <inheritdoc />
    public async Task<TouchCheck> CheckTouchAsync(BedPoint place, CancellationToken cancel)
    {
        place = new BedPoint(Rounded(place.X, Verb.Touch, "x"), Rounded(place.Y, Verb.Touch, "y"));
        for (int touched = 1; ; touched++)
        {
            try
            {
                double offsetZ = _state.Guard.State.Offset.Z;
                ImmutableArray<string> lines = await DescendAsync(place, cancel);
                NozzlePosition after = _state.Guard.State.Position!.Value;
                if (_reader.Touch(lines) is { } report)
                {
                    var reported = new BedPoint(report.X - Profile.Bed.ControllerOriginX, report.Y - Profile.Bed.ControllerOriginY);
                    return new TouchCheck(place, reported, report.Z, NozzleHeight(report.Z, offsetZ), after);
                }

                if (touched == _options.AttemptsToAgree)
                {
                    return new TouchCheck(place, null, 0, 0, after);
                }
            }
            catch (CommandUncertainException) when (touched < _options.AttemptsToAgree)
            {
                // Its report is gone; the position is asked for before the place is touched again.
            }
        }
    }

    /// <summary>
    /// Believes the first of two touches that agree. The first is kept when the second bears it out, so that confirming does not thin the
    /// scatter; when none agree the probe really scatters, and the last stands.
    /// </summary>
    private async Task<double> ConfirmAsync(BedPoint place, double first, CancellationToken cancel)
    {
        var heights = new List<double> { first };
        const int MostTouches = 3;
        while (heights.Count < MostTouches)
        {
            (double next, _) = await TouchUntilReadableAsync(place, cancel);
            foreach (double earlier in heights)
            {
                if (Math.Abs(earlier - next) <= _options.AgreementMm)
                {
                    return earlier;
                }
            }

            heights.Add(next);
        }

        return heights[^1];
    }

    private async Task<(double Z, bool WasDoubtful)> TouchUntilReadableAsync(BedPoint place, CancellationToken cancel)
    {
        for (int touched = 0; touched < _options.AttemptsToAgree; touched++)
        {
            try
            {
                if (await TouchOnceAsync(place, cancel) is double z)
                {
                    return (z, touched > 0);
                }
            }
            catch (CommandUncertainException)
            {
                // Touched or not, its report is gone. The position is asked for before the place is touched again.
            }

            _touchesInDoubt = _options.TouchesInDoubt;
        }

        throw new ReportUnreadableException("a touch", string.Empty);
    }

    private async Task<double?> TouchOnceAsync(BedPoint place, CancellationToken cancel)
    {
        double offsetZ = _state.Guard.State.Offset.Z;
        ImmutableArray<string> lines = await DescendAsync(place, cancel);
        if (_reader.Touch(lines) is not { } report
            || Math.Abs(report.X - Profile.Bed.ControllerOriginX - place.X) > SameTouchMm
            || Math.Abs(report.Y - Profile.Bed.ControllerOriginY - place.Y) > SameTouchMm)
        {
            return null;
        }

        double z = NozzleHeight(report.Z, offsetZ);
        if (z < Profile.Travel.LowestZ - Profile.Probe.ExtendedBelowNozzleMm || z > Profile.Travel.HighestZ)
        {
            return null;
        }

        _state.Apply(guard => guard.Touched(place, z));
        return z;
    }

    private double NozzleHeight(double reported, double offsetZ) => _dialect.TouchReport == TouchReport.OffsetIncluded ? reported - offsetZ : reported;

    /// <summary>Touches a place and lifts again; where the nozzle is, is known afterwards.</summary>
    /// <returns>What the controller said.</returns>
    private async Task<ImmutableArray<string>> DescendAsync(BedPoint place, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        await RaiseToClearanceAsync(cancel);
        if (Profile.Probe.Kind == ProbeKind.Docked && _state.Guard.State.Probe != ProbePosture.Extended)
        {
            await ExtendProbeAsync(cancel);
        }

        if (Profile.Probe.Kind == ProbeKind.RetractablePin && _state.Guard.State.Probe != ProbePosture.Retracted && _session.Has(Verb.RetractProbe))
        {
            // A controller that finds the pin out may leave it out after the touch.
            await RetractProbeAsync(cancel);
        }

        await PassClipsAsync(place, cancel);
        Require(new MotionRequest.Touch(place));
        ImmutableArray<string> lines = await MoveAsync(
            Verb.Touch, cancel, ("x", place.X + Profile.Bed.ControllerOriginX), ("y", place.Y + Profile.Bed.ControllerOriginY));
        if (_reader.TouchFailure(lines) is { } failure)
        {
            await RetreatAfterFailedTouchAsync(cancel);
            throw new TouchFailedException(place, Printable.Text(failure));
        }

        if (Profile.Probe.Kind == ProbeKind.RetractablePin)
        {
            _state.Apply(guard => guard.ProbeIs(ProbePosture.Retracted));
        }

        await RecoverPositionAsync(cancel);
        return lines;
    }

    /// <summary>A controller may travel with the pin out: where a clip is in the way, the head is brought over the place first, high and retracted.</summary>
    private async Task PassClipsAsync(BedPoint place, CancellationToken cancel)
    {
        MotionGuard guard = _state.Guard;
        BedPoint nozzle = guard.NozzleFor(place);
        if (guard.State.Position is { } at && guard.ProbeReach.CanTouch(place) && guard.MeetsClip(at, nozzle, probeOut: true))
        {
            await MoveNozzleAsync(nozzle, cancel);
        }
    }

    private async Task RetreatAfterFailedTouchAsync(CancellationToken cancel)
    {
        _state.Apply(guard => guard.ProbeIs(ProbePosture.Unknown));
        try
        {
            await LiftToClearanceAsync(cancel);
        }
        catch (Exception refused) when (refused is MachineException or MotionRefusedException)
        {
            // The failed touch is what the caller must hear of; the guard refuses what is no longer safe.
        }
    }

    private bool IsSurprising(BedPoint place, double z)
    {
        if (_latelyEpoch != Now.DatumEpoch)
        {
            return IsSurprisingFirst(z);
        }

        double[] here = [.. _lately.Where(touch => touch.Place.DistanceTo(place) <= GuardLimits.SamePlaceMm).Select(touch => touch.Z)];
        return here.Length >= FewestForSeries
            ? LocalPrediction.IsSurprising(here, z, Profile.Probe.BadSigmaMm * 6)
            : LocalPrediction.IsSurprising(_lately, place, z);
    }

    /// <summary>The homing itself was a touch: the first reading of an epoch lies within a millimetre of it on a bed levelled by hand.</summary>
    private bool IsSurprisingFirst(double z) =>
        _state.Guard.State.HomingTriggerZ is not { } homing || !(Math.Abs(z - homing) <= 1.0);

    private void Remember(BedPoint place, double z)
    {
        const int MostRemembered = 200;
        if (_latelyEpoch != Now.DatumEpoch)
        {
            _lately.Clear();
            _latelyEpoch = Now.DatumEpoch;
        }

        if (_lately.Count == MostRemembered)
        {
            _lately.RemoveAt(0);
        }

        _lately.Add(new GuardTouch(place, z));
    }
}
