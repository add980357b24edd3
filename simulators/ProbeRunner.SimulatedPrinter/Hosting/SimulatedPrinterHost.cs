using ProbeRunner.SimulatedPrinter.Controller;
using ProbeRunner.SimulatedPrinter.Faults;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Senses;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>
/// A simulated printer at the far end of a link: reads what comes, says what the controller says when it is time, and does what
/// the fault plan asks. A thin shell: it may be driven by one thread over virtual time or by many over the system's clock.
/// </summary>
public sealed class SimulatedPrinterHost : ISenses, IAsyncDisposable
{
    private readonly Lock _gate = new();
    private readonly TimeProvider _time;
    private readonly long _start;
    private readonly FaultPlan _plan;
    private readonly FaultyInput _input;
    private readonly FaultyOutput _output;
    private readonly PrinterBody _body;
    private readonly SimulatedController _controller;
    private readonly Bystander _bystander;
    private readonly MotionFaults _motionFaults;
    private readonly ITimer _alarm;
    private readonly bool _resetsOnOpen;
    private readonly LinkWriter _writer;
    private ILink? _link;
    private bool _disposed;
    private PrinterLog? _log;

    private SimulatedPrinterHost(Scenario scenario, TimeProvider time, FaultPlan plan)
    {
        (_time, _start, _plan) = (time, time.GetTimestamp(), plan);
        _input = new FaultyInput(plan);
        _output = new FaultyOutput(plan, scenario.Controller.CarriageReturns);
        _writer = new LinkWriter(_gate, _output, () => Now, Unplug, Alarm);
        _body = new PrinterBody(scenario);
        _controller = new SimulatedController(scenario, _body, line => _output.Say(line, Now));
        _bystander = new Bystander(scenario, _body, _controller.State, new MachineHandles(
            PullByHand, () => CablePlugged?.Invoke(), () => _controller.PowerOff(Now), Restart));
        _motionFaults = new MotionFaults(plan);
        _resetsOnOpen = scenario.Controller.ResetsOnOpen;
        Scenario = scenario;
        Truth = new Truth(_body, _controller);
        _alarm = time.CreateTimer(_ => Alarm(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    /// <summary>What the printer is.</summary>
    public Scenario Scenario { get; }

    /// <summary>What is really so; for tests.</summary>
    public Truth Truth { get; }

    /// <summary>Whether a cable is plugged in.</summary>
    public bool IsPlugged
    {
        get
        {
            lock (_gate)
            {
                return _link is not null;
            }
        }
    }

    /// <summary>The link to the client has ended: pulled by us, or closed by the client. Called once for each link.</summary>
    public event Action<ILink>? LinkEnded;

    /// <summary>A person pulled the cable, or the fault plan did.</summary>
    public event Action? CablePulled;

    /// <summary>A person plugs the cable in again; whoever made the link makes a new one and calls <see cref="Plug"/>.</summary>
    public event Action? CablePlugged;

    /// <summary>Starts a printer.</summary>
    /// <param name="farEnd">The controller's end of a link; null to plug one in later.</param>
    /// <param name="scenario">What the printer is.</param>
    /// <param name="time">The clock that motions and replies take their time from.</param>
    /// <param name="faults">What goes wrong; nothing unless given.</param>
    public static SimulatedPrinterHost Start(ILink? farEnd, Scenario scenario, TimeProvider time, FaultPlan? faults = null)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(time);
        var host = new SimulatedPrinterHost(scenario, time, faults ?? FaultPlan.None);
        if (farEnd is not null)
        {
            host.Plug(farEnd);
        }

        host.Alarm();
        return host;
    }

    /// <summary>Writes down from now on what comes and what is done.</summary>
    internal void WriteDown(PrinterLog log)
    {
        lock (_gate)
        {
            _log = log;
            _body.Touched += log.Touched;
        }
    }

    /// <summary>Plugs a cable in: a client has opened the link, or will.</summary>
    /// <param name="farEnd">The controller's end; the one before must have ended.</param>
    public void Plug(ILink farEnd)
    {
        ArgumentNullException.ThrowIfNull(farEnd);
        lock (_gate)
        {
            if (_link is not null)
            {
                throw new InvalidOperationException("A cable is plugged in already.");
            }

            _link = farEnd;
            _output.Clear();
        }

        NoticeOpening();
        _ = ReadAsync(farEnd);
    }

    /// <summary>A client has opened the port, where the link itself cannot tell: resets the controller if opening does that to it.</summary>
    public void NoticeOpening()
    {
        if (_resetsOnOpen)
        {
            Act(Restart);
        }
    }

    /// <summary>Pulls the cable for real: our end is closed, what had not arrived is lost.</summary>
    public void PullCable() => Act(PullByHand);

    /// <summary>Switches the power off and on: the controller starts anew, what was not stored is gone.</summary>
    public void PowerCycle() => Act(Restart);

    /// <summary>Gives the probe a defect, or takes it away.</summary>
    public void SetProbeDefect(ProbeDefect defect) => Act(() => _body.Probe.Defect = defect);

    /// <summary>Answers a question to the person at the machine at once.</summary>
    public string Ask(string question)
    {
        ArgumentNullException.ThrowIfNull(question);
        var answer = "";
        Act(() => answer = _bystander.Answer(question));
        return answer;
    }

    /// <inheritdoc/>
    public Task<string> AskAsync(string question, CancellationToken cancel = default)
    {
        cancel.ThrowIfCancellationRequested();
        return Task.FromResult(Ask(question));
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        lock (_gate)
        {
            _disposed = true;
        }

        await _alarm.DisposeAsync();
        PullCable();
    }

    private TimeSpan Now => _time.GetElapsedTime(_start);

    private void Restart()
    {
        _log?.Restarted();
        _controller.Reset(Now);
    }

    private void Alarm() => Act(static () => { });

    private void Act(Action act)
    {
        lock (_gate)
        {
            _controller.Advance(Now);
            act();
            Settle();
        }

        _writer.Flush(_link);
    }

    private void Take(ReadOnlySpan<byte> bytes)
    {
        lock (_gate)
        {
            _log?.Received(bytes);
            _input.Take(bytes, spoilt => _controller.Receive(spoilt, Now));
            Settle();
            if (_plan.PullCableAtLine > 0 && _input.Lines >= _plan.PullCableAtLine && _motionFaults.TakeLinePull())
            {
                PullByHand();
            }
        }

        _writer.Flush(_link);
    }

    // Does what the fault plan wants now and sets the alarm for whatever comes next. Called with the gate held.
    private void Settle()
    {
        _controller.Advance(Now);
        switch (_motionFaults.Due(_controller.Timeline, Now))
        {
            case MotionFault.Reset:
                _output.LinesToLose = _plan.LosesBanner ? 3 : 0;
                Restart();
                break;
            case MotionFault.PullCable:
                PullByHand();
                break;
        }

        if (_plan.DefectFromTouch > 0 && _body.Probe.Touches + 1 >= _plan.DefectFromTouch)
        {
            _body.Probe.Defect = _plan.Defect;
        }

        if (_disposed)
        {
            return;
        }

        var due = new[] { _controller.NextDue, _link is null ? null : _output.NextDue, _motionFaults.NextDue }.Min();
        var wait = due is { } at ? (at > Now ? at - Now : TimeSpan.Zero) : Timeout.InfiniteTimeSpan;
        _alarm.Change(wait, Timeout.InfiniteTimeSpan);
    }

    private void PullByHand()
    {
        CutCable();
        CablePulled?.Invoke();
    }

    private void CutCable()
    {
        if (_link is { } link)
        {
            _link = null;
            _output.Clear();
            _ = CloseAsync(link);
        }
    }

    private async Task CloseAsync(ILink link)
    {
        await link.DisposeAsync();
        LinkEnded?.Invoke(link);
    }

    private async Task ReadAsync(ILink link)
    {
        var buffer = new byte[4096];
        try
        {
            while (true)
            {
                var count = await link.ReadAsync(buffer, CancellationToken.None);
                Take(buffer.AsSpan(0, count));
            }
        }
        catch (Exception lost) when (lost is LinkLostException or ObjectDisposedException or OperationCanceledException)
        {
            Unplug(link);
        }
    }

    private void Unplug(ILink link)
    {
        lock (_gate)
        {
            if (_link != link)
            {
                return;
            }

            CutCable();
        }
    }
}
