using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Guard;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Printers;

/// <summary>
/// A printer over a command channel: verbs become lines of its dialect, replies become typed values, every motion passes the guard.
/// What is critical is read until two reports agree; where the nozzle is, is asked whenever it is not certain.
/// </summary>
public sealed partial class Printer : IPrinter
{
    private readonly ICommandChannel _channel;
    private readonly Dialect _dialect;
    private readonly ReplyReader _reader;
    private readonly PrinterState _state;
    private readonly ControllerSession _session;
    private readonly PrinterOptions _options;
    private readonly TimeProvider _time;
    private readonly DateTimeOffset _startedAt;
    private readonly long _startedStamp;
    private int _preparedSession;
    private bool _isAbsolute;

    private Printer(ICommandChannel channel, Dialect dialect, MachineProfile profile, TimeProvider time, PrinterOptions options)
    {
        _channel = channel;
        _dialect = dialect;
        _reader = new ReplyReader(dialect);
        _time = time;
        _options = options;
        _startedAt = time.GetUtcNow();
        _startedStamp = time.GetTimestamp();
        Profile = profile;
        _state = new PrinterState(profile, time);
        _session = new ControllerSession(channel, dialect, _state);
        channel.Happened += OnChannelEvent;
    }

    /// <inheritdoc />
    public MachineProfile Profile { get; }

    /// <inheritdoc />
    public PrinterSnapshot Now => _state.Snapshot;

    /// <summary>The guard as it stands, for showing what is allowed and why not.</summary>
    public MotionGuard Guard => _state.Guard;

    /// <summary>The dialect in use.</summary>
    public Dialect Dialect => _dialect;

    /// <summary>The level of the link's trouble, for showing.</summary>
    public LinkHealth Health => _channel.Health;

    /// <inheritdoc />
    public event Action<PrinterEvent>? Happened;

    /// <summary>
    /// Begins a session with a controller: waits until it has started, sets line numbers, asks what it is and what it can do. Nothing moves.
    /// </summary>
    /// <param name="channel">The channel; the printer owns it from now on.</param>
    /// <param name="dialect">What the controller understands; the channel was made with it.</param>
    /// <param name="profile">The machine.</param>
    /// <param name="time">The clock of all waits and stamps.</param>
    /// <param name="options">How reports are doubted; null for the usual way.</param>
    /// <param name="cancel">Ends the attempt.</param>
    /// <exception cref="LinkSilentException">The controller does not answer.</exception>
    public static async Task<Printer> ConnectAsync(
        ICommandChannel channel,
        Dialect dialect,
        MachineProfile profile,
        TimeProvider time,
        PrinterOptions? options = null,
        CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(channel);
        ArgumentNullException.ThrowIfNull(dialect);
        ArgumentNullException.ThrowIfNull(profile);
        ArgumentNullException.ThrowIfNull(time);
        var printer = new Printer(channel, dialect, profile, time, options ?? PrinterOptions.Default);
        try
        {
            await printer._session.BeginAsync(evenUntold: false, cancel);
            if (printer._options.HeatersOffFirst)
            {
                await printer.HeatersOffAsync(cancel);
            }

            await printer.IdentifyAsync(cancel);
            await printer.PrepareSessionAsync(cancel);
            return printer;
        }
        catch
        {
            await printer.DisposeAsync();
            throw;
        }
    }

    /// <inheritdoc />
    public void ForgetHoming(Axes axes) => _state.Apply(guard => guard.Forgotten(axes));

    /// <inheritdoc />
    public bool Halt() => _session.Halt();

    /// <inheritdoc />
    public ValueTask DisposeAsync()
    {
        _channel.Happened -= OnChannelEvent;
        return _channel.DisposeAsync();
    }

    private DateTimeOffset Stamp() => _startedAt + _time.GetElapsedTime(_startedStamp);

    /// <summary>What must be known of a controller before it moves; again in each session, since a reset brings the stored settings back.</summary>
    private async Task PrepareSessionAsync(CancellationToken cancel)
    {
        await _session.BeginAsync(evenUntold: false, cancel);
        if (_preparedSession == _session.Number)
        {
            return;
        }

        int session = _session.Number;
        _isAbsolute = false;
        await LearnIdleReleaseAsync(cancel);
        await TryAsync(Verb.ReadProbeOffset, () => ReadProbeOffsetAsync(cancel));
        await TryAsync(Verb.SoftLimits, async () =>
        {
            bool? on = _reader.State(await _session.SendAsync(Verb.SoftLimits, cancel), ReplyKeys.SoftLimits);
            _state.Note(snapshot => snapshot with { SoftLimitsOn = on });
            return on;
        });
        bool? meshIsOn = _session.Has(Verb.MeshOff) ? await MeshStateAsync(cancel) : MeshIsOff();
        _state.Note(snapshot => snapshot with { MeshCorrectionOn = meshIsOn });
        _state.Apply(guard => guard.MeshIs(meshIsOn == false ? MeshInForce.Off : null));

        _preparedSession = session;
    }

    private async Task TryAsync<T>(Verb verb, Func<Task<T>> ask)
    {
        if (!_session.Has(verb))
        {
            return;
        }

        try
        {
            await ask();
        }
        catch (NotAbleException)
        {
            // Found out and remembered by the session; abilities follow.
        }
    }

    private void OnChannelEvent(ChannelEvent happened)
    {
        switch (happened)
        {
            case ChannelEvent.ControllerReset reset:
                _state.Lost(reset.Count, isHalted: false);
                Raise(new PrinterEvent.ControllerReset(Printable.Text(reset.Line)));
                break;
            case ChannelEvent.Halted halted:
                _state.Lost(_channel.ResetCount, isHalted: true);
                Raise(new PrinterEvent.Remark(Printable.Text(halted.Line)));
                break;
            case ChannelEvent.LinkLost lost:
                _state.Lost(_channel.ResetCount, isHalted: false);
                Raise(new PrinterEvent.LinkLost(lost.Reason.Message));
                break;
            case ChannelEvent.TemperatureReported report:
                if (TemperaturesIn([report.Line]) is { } temperatures)
                {
                    _state.Heard(temperatures);
                    Raise(new PrinterEvent.TemperaturesReported(temperatures));
                }

                break;
            case ChannelEvent.Resent resent:
                Raise(new PrinterEvent.LineSentAgain(resent.Attempt));
                break;
            case ChannelEvent.UnsolicitedLine line:
                Raise(new PrinterEvent.Remark(Printable.Text(line.Line)));
                break;
        }
    }

    private void Raise(PrinterEvent happened) => Happened?.Invoke(happened);

    private Temperatures? TemperaturesIn(ImmutableArray<string> lines) => _reader.Temperatures(lines) is { } found
        ? new Temperatures(found.Nozzle, found.NozzleTarget, found.Bed, found.BedTarget, Stamp())
        : null;
}
