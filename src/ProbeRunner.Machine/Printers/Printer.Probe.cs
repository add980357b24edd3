using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Machine.Printers;

/// <summary>The probe by itself, and the end switches.</summary>
public sealed partial class Printer
{
    private bool HasMovingProbe => Profile.Probe.Kind is ProbeKind.RetractablePin or ProbeKind.Docked;

    /// <inheritdoc />
    public async Task ExtendProbeAsync(CancellationToken cancel)
    {
        if (!HasMovingProbe)
        {
            return;
        }

        await PrepareMotionAsync(cancel);
        Require(new MotionRequest.Extend());
        await SetProbeAsync(Verb.ExtendProbe, ProbePosture.Extended, cancel);
    }

    /// <inheritdoc />
    public async Task RetractProbeAsync(CancellationToken cancel)
    {
        if (!HasMovingProbe)
        {
            return;
        }

        await PrepareMotionAsync(cancel);
        Require(new MotionRequest.Retract());
        await SetProbeAsync(Verb.RetractProbe, ProbePosture.Retracted, cancel);
    }

    /// <inheritdoc />
    public async Task ClearProbeFaultAsync(CancellationToken cancel)
    {
        if (_session.Has(Verb.ClearProbeFault))
        {
            await SetProbeAsync(Verb.ClearProbeFault, ProbePosture.Unknown, cancel);
        }
    }

    /// <inheritdoc />
    public async Task<ProbeState> ReadProbeAsync(CancellationToken cancel)
    {
        ImmutableSortedDictionary<string, ProbeState> switches = await ReadSwitchesAsync(cancel);
        ProbeState[] found = [.. switches.Where(entry => entry.Key.Contains("probe", StringComparison.Ordinal)).Select(entry => entry.Value)];
        ProbeState state = found is [ProbeState single, ..] ? single : ProbeState.Unknown;
        _state.Note(snapshot => snapshot with { Probe = state });
        return state;
    }

    /// <inheritdoc />
    public async Task<ImmutableSortedDictionary<string, ProbeState>> ReadSwitchesAsync(CancellationToken cancel) =>
        _session.Has(Verb.Switches)
            ? _reader.Switches(await _session.AskUntilAgreedAsync(Verb.Switches, _options.AttemptsToAgree, cancel))
            : ImmutableSortedDictionary<string, ProbeState>.Empty;

    private async Task SetProbeAsync(Verb verb, ProbePosture posture, CancellationToken cancel)
    {
        // While it is on its way nobody knows; a docked one takes the head along.
        _state.Apply(guard => guard.ProbeIs(ProbePosture.Unknown));
        if (Profile.Probe.Kind == ProbeKind.Docked)
        {
            _state.Apply(guard => guard.PositionLost());
        }

        ImmutableArray<string> lines = await _session.SendAsync(verb, cancel);
        if (_reader.TouchFailure(lines) is { } failure)
        {
            throw new ProbeFaultException(VerbTable.Rules[verb].Key.Split('_')[0], Printable.Text(failure));
        }

        _state.Apply(guard => guard.ProbeIs(posture));
        if (Profile.Probe.Kind == ProbeKind.Docked)
        {
            await RecoverPositionAsync(cancel);
        }
    }

    /// <summary>A homing with a pin ends with the pin in; said once more, so that it is certain.</summary>
    private async Task RetractAfterHomingAsync(CancellationToken cancel)
    {
        if (Profile.Probe.Kind == ProbeKind.RetractablePin && _session.Has(Verb.RetractProbe))
        {
            await SetProbeAsync(Verb.RetractProbe, ProbePosture.Retracted, cancel);
        }
        else if (HasMovingProbe)
        {
            _state.Apply(guard => guard.ProbeIs(ProbePosture.Retracted));
        }
    }
}
