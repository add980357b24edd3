using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;

namespace ProbeRunner.Machine.Printers;

/// <summary>Laying a first layer: every line and every nudge passes the guard before the first of them is sent.</summary>
public sealed partial class Printer
{
    /// <inheritdoc />
    public async Task BeginLayingAsync(double layerHeightMm, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        Temperatures heat = await ReadTemperaturesAsync(cancel);
        Require(new MotionRequest.BeginLaying(layerHeightMm, heat, Stamp()));
        _state.Apply(guard => guard.LayingBegun(layerHeightMm));
    }

    /// <inheritdoc />
    public async Task LayAsync(ImmutableArray<LaidLine> lines, double heightMm, double feedMmPerMin, CancellationToken cancel)
    {
        await PrepareMotionAsync(cancel);
        if (!_session.Has(Verb.LayLine))
        {
            throw new NotAbleException("lay a line of plastic");
        }

        double z = Rounded(heightMm, Verb.MoveHeight, "z");
        RequireAll(lines, z, feedMmPerMin);
        NozzlePosition at = _state.Guard.State.Position!.Value;
        if (at.Z != z)
        {
            await GoAsync(Verb.MoveHeight, at, at with { Z = z }, cancel, ("z", z), ("feed", Profile.Travel.LiftFeedMmPerMin));
        }

        _state.Apply(guard => guard.PositionLost());
        foreach (LaidLine line in lines)
        {
            _state.Moved();
            await _session.SendAsync(
                Verb.LayLine, cancel,
                ("x", line.To.X + Profile.Bed.ControllerOriginX), ("y", line.To.Y + Profile.Bed.ControllerOriginY), ("filament", line.FilamentMm), ("feed", feedMmPerMin));
        }

        await _session.SendAsync(Verb.WaitForMotion, cancel);
        _state.Moved();
        BedPoint end = lines.IsEmpty ? new BedPoint(at.X, at.Y) : lines[^1].To;
        await ConfirmAtAsync(new NozzlePosition(Rounded(end.X, Verb.LayLine, "x"), Rounded(end.Y, Verb.LayLine, "y"), z), cancel);
    }

    /// <inheritdoc />
    public async Task NudgeAsync(double byMm, double nextLineMm, CancellationToken cancel)
    {
        double by = Rounded(byMm, Verb.Nudge, "z");
        Require(new MotionRequest.Nudge(by, Rounded(nextLineMm, Verb.MoveHeight, "z")));
        await SendNudgeAsync(by, cancel);
    }

    /// <summary>Takes all nudges back, high above the bed, and ends the first layer.</summary>
    private async Task EndLayingAsync(CancellationToken cancel)
    {
        while (_state.Guard.State.Laying is { } mode && Math.Abs(mode.NudgedMm) > GuardLimits.RoundingMm)
        {
            await SendNudgeAsync(-Math.Clamp(mode.NudgedMm, -GuardLimits.LargestNudgeMm, GuardLimits.LargestNudgeMm), cancel);
        }

        _state.Apply(guard => guard.LayingEnded());
    }

    private async Task SendNudgeAsync(double by, CancellationToken cancel)
    {
        // A nudge whose reply is lost may or may not have been done: it counts where it brings the nozzle nearer to the bed.
        _state.Moved();
        _state.Apply(guard => guard.Nudged(Math.Min(by, 0)));
        await _session.SendAsync(Verb.Nudge, cancel, ("z", by));
        _state.Apply(guard => guard.Nudged(Math.Max(by, 0)));
    }

    /// <summary>The whole patch is decided before any of it is sent: half a patch helps nobody.</summary>
    private void RequireAll(ImmutableArray<LaidLine> lines, double z, double feed)
    {
        MotionGuard guard = _state.Guard;
        NozzlePosition at = guard.State.Position ?? throw new MotionRefusedException(new MotionRefusal(RefusalReason.PositionUnknown, "where the nozzle is, is not known."));
        foreach (LaidLine line in lines.Prepend(new LaidLine(new BedPoint(at.X, at.Y), 0)))
        {
            if (guard.Decide(new MotionRequest.Lay(line.To, z, line.FilamentMm, feed)) is { } refusal)
            {
                throw new MotionRefusedException(refusal);
            }

            guard = guard.At(new NozzlePosition(line.To.X, line.To.Y, z));
        }
    }
}
