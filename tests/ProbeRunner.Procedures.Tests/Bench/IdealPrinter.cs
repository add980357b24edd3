using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Tests.Bench;

/// <summary>A printer without a wire: a plane bed, an exact or noisy probe, every verb taking virtual time. It survives sessions; <see cref="PowerCut"/> makes it forget.</summary>
internal sealed class IdealPrinter(TimeProvider time, MachineProfile profile) : IPrinter
{
    public const double TriggerToNozzleMm = 2.15;

    private readonly Dictionary<string, int> _calls = [];
    private double _datum;
    private double _realZ = 20;
    private (double X, double Y) _at;
    private Axes _homed;
    private int _epoch;
    private bool _busy;
    private Temperatures? _heard;
    private bool _halted;
    private int _homings;

    public List<string> Log { get; } = [];

    public Func<BedPoint, double> Bed { get; set; } = place => (0.002 * (place.X - 120)) - (0.001 * (place.Y - 120));

    public Func<int, double> TouchNoise { get; set; } = _ => 0;

    public Func<int, double> HomeNoise { get; set; } = _ => 0;

    /// <summary>Called with the verb's name and its how many-th call, before it is done; may throw or wait.</summary>
    public Func<string, int, Task>? Before { get; set; }

    public ProbeOffset Offset { get; private set; } = new(-38, -9, -2.0);

    public ProbeOffset StoredOffset { get; private set; } = new(-38, -9, -2.0);

    public MeshNodes Mesh { get; private set; } = new(profile.Mesh.Area, profile.Mesh.Columns, profile.Mesh.Rows, [.. new double[profile.Mesh.Columns * profile.Mesh.Rows]]);

    public int Stores { get; private set; }

    public int Touches { get; private set; }

    public int Halts { get; private set; }

    /// <summary>Whether it still tells its temperatures after a halt.</summary>
    public bool AnswersHalted { get; set; }

    public double NozzleTarget { get; private set; }

    public double BedTarget { get; private set; }

    /// <summary>What the nozzle's sensor reads; null for a heater that is at its target at once.</summary>
    public Func<double>? NozzleCelsius { get; set; }

    public bool SoftLimitsOn { get; private set; } = true;

    public bool HeatersObey { get; set; } = true;

    public bool ProbePushed { get; set; }

    public string MachineName { get; set; } = "bench";

    public string StepsPerMmZ { get; set; } = "400.00 steps/mm";

    public ControllerAbilities Abilities { get; set; } = new(true, true, true, true, true, true);

    /// <summary>Nozzle tip above the bed under it, mm.</summary>
    public double GapMm => _realZ - Bed(new BedPoint(_at.X, _at.Y));

    public double LowestGapMm { get; private set; } = double.PositiveInfinity;

    public MachineProfile Profile => profile;

    public PrinterSnapshot Now => new(_homed, _epoch, null, false, ProbeState.Open, false, SoftLimitsOn, _heard, 0);

    public string MeshStartCodeLine => "MESH ON";

    public event Action<PrinterEvent>? Happened;

    /// <summary>Power was cut: axes unhomed, live settings are the stored ones, the printer object of the next session counts epochs anew.</summary>
    public void PowerCut()
    {
        (_homed, _epoch, Offset, SoftLimitsOn, NozzleTarget, BedTarget, _busy) = (Axes.None, 0, StoredOffset, true, 0, 0, false);
        Happened?.Invoke(new PrinterEvent.ControllerReset("started"));
    }

    /// <summary>A person resets the controller after a halt, in the same session.</summary>
    public void ResetAfterHalt() => (_homed, _halted) = (Axes.None, false);

    public async Task<ControllerIdentity> IdentifyAsync(CancellationToken cancel)
    {
        await DoAsync("identify", 0.05, cancel);
        return new ControllerIdentity("bench firmware 1", MachineName, "0001", Abilities, ImmutableSortedDictionary<string, string>.Empty);
    }

    public async Task<SettingsReport> ReadSettingsAsync(CancellationToken cancel)
    {
        await DoAsync("settings", 0.2, cancel);
        return new SettingsReport(
            ImmutableSortedDictionary<string, string>.Empty
                .Add("probe offset Z", FormattableString.Invariant($"{Offset.Z:0.000} mm"))
                .Add("steps per mm X", "80.00 steps/mm").Add("steps per mm Y", "80.00 steps/mm").Add("steps per mm Z", StepsPerMmZ),
            []);
    }

    public Task LiftUnhomedAsync(double liftMm, CancellationToken cancel) => DoAsync("lift", 1, cancel, () => _realZ += liftMm);

    public ImmutableArray<string> LinesThatSet(MeshNodes mesh) => [.. mesh.Heights.Select(height => FormattableString.Invariant($"node {height:0.000}"))];

    public async Task<MeshNodes?> ProbeOwnMeshAsync(CancellationToken cancel)
    {
        await DoAsync("probe-own-mesh", 60, cancel, () => Demand(Axes.All));
        return await ReadMeshAsync(cancel);
    }

    public Task ReleaseMotorsAsync(CancellationToken cancel) => DoAsync("release", 1, cancel, () => _homed = Axes.None);

    public Task HomeAsync(Axes axes, CancellationToken cancel) => DoAsync(axes.HasFlag(Axes.Z) ? "home-z" : "home-xy", 15, cancel, () =>
    {
        _homed |= axes;
        if (axes.HasFlag(Axes.Z))
        {
            BedPoint home = profile.Travel.HomingPlace;
            _realZ = Bed(home) + TriggerToNozzleMm + HomeNoise(++_homings);
            _datum = _realZ + Offset.Z;
            _epoch++;
            _at = (home.X - Offset.X, home.Y - Offset.Y);
        }
    });

    public void ForgetHoming(Axes axes) => _homed &= ~axes;

    public Task MoveNozzleAsync(BedPoint place, CancellationToken cancel) => DoAsync("move", 1, cancel, () =>
    {
        Demand(Axes.All);
        Assert.True(GapMm > 2, "level travel near the bed");
        _at = (place.X, place.Y);
    });

    public async Task<NozzlePosition> MoveToHeightAsync(double heightMm, double feedMmPerMin, CancellationToken cancel)
    {
        await DoAsync("height", 0.3, cancel, () =>
        {
            Demand(Axes.All);
            double next = heightMm + _datum;
            Assert.True(next >= _realZ - 0.1001 || next - Bed(new BedPoint(_at.X, _at.Y)) > 0.5, "a step larger than 0.1 mm near the bed");
            _realZ = next;
            LowestGapMm = Math.Min(LowestGapMm, GapMm);
        });
        return new NozzlePosition(_at.X, _at.Y, _realZ - _datum);
    }

    public Task LiftToClearanceAsync(CancellationToken cancel) => DoAsync("clear", 1, cancel, () =>
    {
        Demand(Axes.Z);
        _realZ = Math.Max(_realZ, TriggerToNozzleMm + 5);
    });

    public async Task<Reading> TouchAsync(BedPoint place, CancellationToken cancel)
    {
        double z = 0;
        await DoAsync("touch", 4, cancel, () =>
        {
            Demand(Axes.All);
            z = Bed(place) + TriggerToNozzleMm + TouchNoise(++Touches) - _datum;
            _realZ = TriggerToNozzleMm + 5;
            _at = (place.X - Offset.X, place.Y - Offset.Y);
        });
        return new Reading(place, z, time.GetUtcNow(), _epoch, false);
    }

    public async Task<TouchCheck> CheckTouchAsync(BedPoint place, CancellationToken cancel)
    {
        Reading reading = await TouchAsync(place, cancel);
        return new TouchCheck(place, place, reading.Z + Offset.Z, reading.Z, new NozzlePosition(_at.X, _at.Y, _realZ - _datum));
    }

    public Task ExtendProbeAsync(CancellationToken cancel) => DoAsync("extend", 0.5, cancel);

    public Task RetractProbeAsync(CancellationToken cancel) => DoAsync("retract", 0.5, cancel);

    public Task ClearProbeFaultAsync(CancellationToken cancel) => DoAsync("clear-fault", 0.5, cancel);

    public async Task<ProbeState> ReadProbeAsync(CancellationToken cancel)
    {
        await DoAsync("probe", 0.05, cancel);
        return ProbePushed ? ProbeState.Triggered : ProbeState.Open;
    }

    public async Task<ImmutableSortedDictionary<string, ProbeState>> ReadSwitchesAsync(CancellationToken cancel)
    {
        await DoAsync("switches", 0.05, cancel);
        return ImmutableSortedDictionary<string, ProbeState>.Empty.Add("X", ProbeState.Open);
    }

    public async Task<NozzlePosition> ReadPositionAsync(CancellationToken cancel)
    {
        await DoAsync("position", 0.05, cancel);
        return new NozzlePosition(_at.X, _at.Y, _realZ - _datum);
    }

    public async Task<ProbeOffset> ReadProbeOffsetAsync(CancellationToken cancel)
    {
        await DoAsync("read-offset", 0.05, cancel);
        return Offset;
    }

    public async Task<ProbeOffset> WriteProbeOffsetAsync(ProbeOffset offset, CancellationToken cancel)
    {
        await DoAsync("write-offset", 0.05, cancel, () =>
        {
            Offset = offset;
            _homed &= ~Axes.Z;
        });
        return Offset;
    }

    public void DeclareOffsetVerified(bool verified) => Log.Add($"verified {verified}");

    public double BeginStepDown(double triggerHeightMm, double triggerToNozzleMm)
    {
        Log.Add("open");
        return triggerHeightMm - triggerToNozzleMm - 0.5;
    }

    public void DeclareContact(double heightMm) => Log.Add("contact");

    public void EndStepDown() => Log.Add("close");

    public Task BeginLayingAsync(double layerHeightMm, CancellationToken cancel) => DoAsync("begin-laying", 0.05, cancel);

    public Task LayAsync(ImmutableArray<LaidLine> lines, double heightMm, double feedMmPerMin, CancellationToken cancel) => DoAsync("lay", lines.Length, cancel, () =>
    {
        Demand(Axes.All);
        _at = lines.IsEmpty ? _at : (lines[^1].To.X, lines[^1].To.Y);
        _realZ = heightMm + _datum;
    });

    public Task NudgeAsync(double byMm, double nextLineMm, CancellationToken cancel) => DoAsync("nudge", 0.1, cancel, () => _realZ += byMm);

    public Task<bool> SetMeshCorrectionAsync(bool on, CancellationToken cancel) => Task.FromResult(on);

    public async Task<bool> SetSoftLimitsAsync(bool on, CancellationToken cancel)
    {
        await DoAsync("soft-limits", 0.05, cancel, () => SoftLimitsOn = on);
        return SoftLimitsOn;
    }

    /// <summary>Null for a controller that neither says nor can be told.</summary>
    public double? HighestZFeed { get; set; } = 600;

    public async Task<double?> ReadHighestZFeedAsync(CancellationToken cancel)
    {
        await DoAsync("read-z-feed", 0.2, cancel);
        return HighestZFeed;
    }

    public async Task<double> LimitZFeedAsync(double feedMmPerMin, CancellationToken cancel)
    {
        await DoAsync("limit-z-feed", 0.2, cancel, () => HighestZFeed = feedMmPerMin);
        return feedMmPerMin;
    }

    public async Task<TravelLimits?> ReadTravelLimitsAsync(CancellationToken cancel)
    {
        await DoAsync("limits", 0.05, cancel);
        return new TravelLimits(profile.Travel.Nozzle, 0, profile.Travel.HighestZ);
    }

    public async Task<MeshNodes?> ReadMeshAsync(CancellationToken cancel)
    {
        await DoAsync("read-mesh", 0.2, cancel);
        return Mesh;
    }

    public async Task<MeshNodes> WriteMeshAsync(MeshNodes mesh, CancellationToken cancel)
    {
        await DoAsync("write-mesh", 1, cancel, () => Mesh = mesh);
        return Mesh;
    }

    public Task StoreSettingsAsync(CancellationToken cancel) => DoAsync("store", 0.5, cancel, () => (StoredOffset, Stores) = (Offset, Stores + 1));

    public Task ReloadSettingsAsync(CancellationToken cancel) => DoAsync("reload", 0.5, cancel, () => Offset = StoredOffset);

    public async Task<Temperatures> ReadTemperaturesAsync(CancellationToken cancel)
    {
        await DoAsync("temperatures", 0.05, cancel);
        return Heat();
    }

    public Task SetHeaterTargetsAsync(double? nozzleCelsius, double? bedCelsius, CancellationToken cancel) => DoAsync("heat", 0.05, cancel, () =>
        (NozzleTarget, BedTarget) = (nozzleCelsius ?? NozzleTarget, bedCelsius ?? BedTarget));

    /// <summary>The controller's own limit for silence has passed.</summary>
    public void ControllerSwitchesHeatersOff() => (NozzleTarget, BedTarget) = (0, 0);

    public bool MayBeHeating => NozzleTarget > 0 || BedTarget > 0;

    public bool InterjectHeatersOff()
    {
        if (NozzleTarget == 0 && BedTarget == 0)
        {
            return false;
        }

        Log.Add("HEATERS OFF");
        if (HeatersObey)
        {
            (NozzleTarget, BedTarget) = (0, 0);
        }

        return true;
    }

    public async Task<Temperatures> HeatersOffAsync(CancellationToken cancel)
    {
        await DoAsync("heaters-off", 0.05, cancel, () =>
        {
            if (HeatersObey)
            {
                (NozzleTarget, BedTarget) = (0, 0);
            }
        });
        return Heat();
    }

    public Task DwellAsync(TimeSpan wait, CancellationToken cancel) => DoAsync("dwell", wait.TotalSeconds, cancel);

    public Task QuiesceAsync(CancellationToken cancel) => DoAsync("quiesce", 0.05, cancel);

    public bool Halt()
    {
        Halts++;
        (_homed, _halted) = (Axes.None, true);
        Log.Add("HALT");
        return true;
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    private Temperatures Heat()
    {
        var heat = new Temperatures(NozzleCelsius?.Invoke() ?? Math.Max(21, NozzleTarget), NozzleTarget, Math.Max(21, BedTarget), BedTarget, time.GetUtcNow());
        _heard = heat;
        return heat;
    }

    private void Demand(Axes axes) => Assert.Equal(axes, _homed & axes);

    private async Task DoAsync(string verb, double seconds, CancellationToken cancel, Action? effect = null)
    {
        Assert.False(_busy, $"{verb} began while another verb was under way");
        Log.Add(verb);
        int call = _calls[verb] = _calls.GetValueOrDefault(verb) + 1;
        if (Before is not null)
        {
            await Before(verb, call);
        }

        _busy = true;
        try
        {
            await Task.Delay(TimeSpan.FromSeconds(seconds), time, cancel);
        }
        finally
        {
            _busy = false;
        }

        if (_halted && !(AnswersHalted && verb == "temperatures"))
        {
            throw new IOException("halted");
        }

        effect?.Invoke();
    }
}
