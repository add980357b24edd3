using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Printers;

/// <summary>What the controller is, what it has stored, and how that is changed: written, then read back until two reports agree.</summary>
public sealed partial class Printer
{
    private const string IdleReleaseName = "idle release";

    /// <inheritdoc />
    public async Task<ControllerIdentity> IdentifyAsync(CancellationToken cancel)
    {
        ImmutableSortedDictionary<string, string> fields = ImmutableSortedDictionary<string, string>.Empty;
        await TryAsync(Verb.Identify, async () => fields = _reader.Identity(
            await _session.AskUntilAgreedAsync(Verb.Identify, _options.AttemptsToAgree, cancel)));
        await TryAsync(Verb.ReadSettings, () => _session.SendAsync(Verb.ReadSettings, cancel));
        await TryAsync(Verb.ReadProbeOffset, () => _session.SendAsync(Verb.ReadProbeOffset, cancel));
        await TryAsync(Verb.ReadMesh, () => _session.SendAsync(Verb.ReadMesh, cancel));
        return new ControllerIdentity(
            Field(fields, "FIRMWARE"), Field(fields, "MACHINE"), Field(fields, "SERIAL", "UUID", "UID"), Abilities(fields), fields);
    }

    /// <inheritdoc />
    public async Task<SettingsReport> ReadSettingsAsync(CancellationToken cancel)
    {
        ImmutableArray<string> lines = [];
        await TryAsync(Verb.ReadSettings, async () =>
            lines = await _session.AskUntilAgreedAsync(Verb.ReadSettings, _options.AttemptsToAgree, cancel));
        return new SettingsReport(_reader.Settings(lines), [.. lines.Select(Printable.Text)]);
    }

    /// <inheritdoc />
    public async Task<ProbeOffset> ReadProbeOffsetAsync(CancellationToken cancel)
    {
        ProbeOffset offset = _reader.ProbeOffset(await _session.AskUntilAgreedAsync(Verb.ReadProbeOffset, _options.AttemptsToAgree, cancel))
            ?? throw new ReportUnreadableException("the probe offset", string.Empty);
        _state.Apply(guard => guard.OffsetIs(offset));
        return offset;
    }

    /// <inheritdoc />
    public async Task<ProbeOffset> WriteProbeOffsetAsync(ProbeOffset offset, CancellationToken cancel)
    {
        if (!(double.IsFinite(offset.X) && double.IsFinite(offset.Y) && Math.Abs(offset.Z) <= 20))
        {
            throw new ArgumentOutOfRangeException(nameof(offset), offset, "A probe offset has finite X and Y and a Z from -20 to 20 mm.");
        }

        if (_state.Guard.State.Homed.HasFlag(Axes.Z))
        {
            await LiftToClearanceAsync(cancel);
        }

        _state.Apply(guard => guard.OffsetWritten(offset));
        await _session.SendAsync(Verb.WriteProbeOffset, cancel, ("x", offset.X), ("y", offset.Y), ("z", offset.Z));
        ProbeOffset found = await ReadProbeOffsetAsync(cancel);
        double worst = Math.Max(Math.Abs(found.X - offset.X), Math.Max(Math.Abs(found.Y - offset.Y), Math.Abs(found.Z - offset.Z)));
        return worst <= ReportRoundingMm
            ? found
            : throw new ReportsDisagreeException("the probe offset", Shown(offset), Shown(found));
    }

    /// <inheritdoc />
    public async Task<bool> SetMeshCorrectionAsync(bool on, CancellationToken cancel)
    {
        Verb verb = on ? Verb.MeshOn : Verb.MeshOff;
        if (!_session.Has(verb))
        {
            return on ? throw new NotAbleException("correct by a mesh") : MeshIsOff();
        }

        _state.Apply(guard => guard.MeshIs(null));
        _state.Note(snapshot => snapshot with { MeshCorrectionOn = null });
        for (int asked = 0; asked < _options.AttemptsToAgree; asked++)
        {
            bool? found = await TrySetMeshAsync(verb, cancel);
            if (found is null && !on && !_session.Has(verb))
            {
                return MeshIsOff();
            }

            found ??= await MeshStateAsync(cancel);
            if (found is bool state)
            {
                _state.Note(snapshot => snapshot with { MeshCorrectionOn = state });
                MeshNodes? mesh = state ? await ReadMeshAsync(cancel) : null;
                _state.Apply(guard => guard.MeshIs(state ? mesh is null ? null : MeshInForce.Of(mesh) : MeshInForce.Off));
                return state == on ? state : throw new ReportsDisagreeException("mesh correction", on ? "on" : "off", state ? "on" : "off");
            }
        }

        throw new ReportUnreadableException("mesh correction", string.Empty);
    }

    /// <inheritdoc />
    public async Task<bool> SetSoftLimitsAsync(bool on, CancellationToken cancel)
    {
        _state.Note(snapshot => snapshot with { SoftLimitsOn = null });
        ImmutableArray<string> lines = await _session.SendAsync(on ? Verb.SoftLimitsOn : Verb.SoftLimitsOff, cancel);
        for (int asked = 0; asked < _options.AttemptsToAgree; asked++)
        {
            if (_session.Has(Verb.SoftLimits))
            {
                lines = await _session.SendAsync(Verb.SoftLimits, cancel);
            }

            if (_reader.State(lines, ReplyKeys.SoftLimits) is bool state)
            {
                _state.Note(snapshot => snapshot with { SoftLimitsOn = state });
                return state == on ? state : throw new ReportsDisagreeException("the soft limits", on ? "on" : "off", state ? "on" : "off");
            }
        }

        throw new ReportUnreadableException("the soft limits", string.Empty);
    }

    /// <inheritdoc />
    public async Task StoreSettingsAsync(CancellationToken cancel) => await _session.SendAsync(Verb.StoreSettings, cancel);

    /// <inheritdoc />
    public async Task ReloadSettingsAsync(CancellationToken cancel)
    {
        await _session.SendAsync(Verb.ReloadSettings, cancel);
        ProbeOffset before = _state.Guard.State.Offset;
        await TryAsync(Verb.ReadProbeOffset, () => ReadProbeOffsetAsync(cancel));
        _state.Apply(guard => guard.State.Offset == before ? guard : guard.OffsetWritten(guard.State.Offset));
        _state.Apply(guard => guard.MeshIs(_session.Has(Verb.MeshOff) ? null : MeshInForce.Off));
    }

    private async Task<bool?> TrySetMeshAsync(Verb verb, CancellationToken cancel)
    {
        try
        {
            return _reader.State(await _session.SendAsync(verb, cancel), ReplyKeys.MeshState);
        }
        catch (NotAbleException) when (verb == Verb.MeshOff)
        {
            return null;
        }
    }

    private async Task<bool?> MeshStateAsync(CancellationToken cancel)
    {
        Verb verb = _session.Has(Verb.MeshState) ? Verb.MeshState : Verb.ReadMesh;
        bool? state = null;
        await TryAsync(verb, async () => state = _reader.State(await _session.SendAsync(verb, cancel), ReplyKeys.MeshState));
        return state;
    }

    /// <summary>A controller that has no mesh corrects by none.</summary>
    private bool MeshIsOff()
    {
        _state.Note(snapshot => snapshot with { MeshCorrectionOn = false });
        _state.Apply(guard => guard.MeshIs(MeshInForce.Off));
        return false;
    }

    /// <summary>Reads the idle time after which motors are released, or sets one where the controller does not say.</summary>
    private async Task LearnIdleReleaseAsync(CancellationToken cancel)
    {
        SettingsReport settings = await ReadSettingsAsync(cancel);
        if (settings.Values.TryGetValue(IdleReleaseName, out string? text) && ReplyPattern.Number(text.Split(' ')[0]) is double seconds and >= 0)
        {
            _state.IdleRelease = seconds == 0 ? null : TimeSpan.FromSeconds(seconds);
            return;
        }

        _state.IdleRelease = _options.AssumedIdleRelease;
        await TryAsync(Verb.IdleRelease, async () =>
        {
            ImmutableArray<string> lines = await _session.SendAsync(Verb.IdleRelease, cancel, ("seconds", _options.IdleReleaseToSet.TotalSeconds));
            _state.IdleRelease = _options.IdleReleaseToSet;
            _state.Note(snapshot => snapshot with { IdleReleaseToldTo = _options.IdleReleaseToSet });
            return lines;
        });
    }

    private ControllerAbilities Abilities(ImmutableSortedDictionary<string, string> fields)
    {
        bool Denied(string part) => fields.Any(field => field.Value == "0" && field.Key.Contains(part, StringComparison.OrdinalIgnoreCase));
        return new ControllerAbilities(
            _channel.IsNumbered,
            _session.Has(Verb.StoreSettings) && !Denied("EEPROM") && !Denied("STORE"),
            _session.Has(Verb.WriteMeshNode) && _session.Has(Verb.ReadMesh) && !Denied("MESH_WRITE"),
            _session.Has(Verb.ReadMesh),
            _session.Has(Verb.WriteProbeOffset) && _session.Has(Verb.ReadProbeOffset),
            _session.Has(Verb.ReadSettings))
        {
            ProbeOwnMesh = _session.Has(Verb.ProbeMesh) && !Denied("CORRECTION_MESH"),
        };
    }

    private static string Field(ImmutableSortedDictionary<string, string> fields, params string[] parts) =>
        fields.FirstOrDefault(field => parts.Any(part => field.Key.Contains(part, StringComparison.OrdinalIgnoreCase))).Value ?? string.Empty;

    private static string Shown(ProbeOffset offset) =>
        string.Create(CultureInfo.InvariantCulture, $"x {offset.X:0.###}, y {offset.Y:0.###}, z {offset.Z:0.####}");
}
