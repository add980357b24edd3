using System.Threading.Channels;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Narration;
using ProbeRunner.Console.Notices;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>
/// A run that is shown on the screens. The run goes on other threads; what it tells waits in a queue until the screens' thread takes it
/// over, at most <see cref="FramePulse.FramesPerSecond"/> times a second. Screens can neither block nor change the run but by its reins.
/// </summary>
internal sealed class LiveRun : IRunFace, IRunListener, IReins, IShownRun, IDisposable
{
    private const int LongestQueue = 65_536;
    private readonly Channel<RunEvent> told = Channel.CreateBounded<RunEvent>(
        new BoundedChannelOptions(LongestQueue) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });

    private readonly ProgramContext context;
    private readonly CancellationTokenSource connecting = new();
    private readonly FramePulse pulse;
    private readonly ITimer clock;
    private volatile BegunRun? begun;
    private volatile ScreenOperator? person;
    private volatile Failure? failure;
    private volatile EndedRun? ended;
    private volatile bool isOver;
    private volatile bool isHalted;
    private MachineView? lastMachine;

    /// <summary>Prepares a run; <see cref="Start"/> begins it.</summary>
    /// <param name="order">What is to be done.</param>
    /// <param name="context">The program's surroundings.</param>
    /// <param name="post">Has something done on the screens' thread.</param>
    public LiveRun(RunOrder order, ProgramContext context, Action<Action> post)
    {
        (Order, this.context) = (order, context);
        pulse = new FramePulse(context.Time, () => post(TakeOver));
        clock = context.Time.CreateTimer(_ => pulse.Ask(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        Completion = Task.CompletedTask;
    }

    /// <summary>Something has changed; raised on the screens' thread.</summary>
    public event Action? Changed;

    /// <summary>What is being done.</summary>
    public RunOrder Order { get; }

    /// <summary>What the run has told so far; belongs to the screens' thread.</summary>
    public RunView View { get; private set; } = RunView.Empty;

    /// <inheritdoc />
    public AskedQuestion? Question => person?.Pending;

    /// <inheritdoc />
    public MachineView? Machine => begun?.Machine is { } machine && !isOver
        ? new MachineView(
            machine.Printer.Profile,
            machine.Printer.Now,
            machine.Health with { MedianRoundTrip = machine.Health.MedianRoundTrip / machine.Speed },
            machine.IsNumbered)
        : lastMachine;

    /// <inheritdoc />
    public WireTrace? Wire => begun?.Machine.Wire;

    /// <inheritdoc />
    public double Speed => begun?.Machine.Speed ?? 1;

    /// <inheritdoc />
    public bool CanAnswerItself => person?.HasSimulated == true;

    /// <inheritdoc />
    public bool AnswersItself
    {
        get => person?.AnswersItself == true;
        set
        {
            if (person is { } asked)
            {
                asked.AnswersItself = value;
                if (value && asked.Pending is { Hint: { } hint } question)
                {
                    question.Answer(hint);
                }
            }
        }
    }

    /// <summary>How it ended; null while it has not, or could not begin.</summary>
    public EndedRun? Ended => ended;

    /// <summary>Why it could not begin or go on; null when it could.</summary>
    public Failure? Failure => failure;

    /// <summary>Done when the run is over, in whichever way, and the machine was left.</summary>
    public Task Completion { get; private set; }

    /// <inheritdoc />
    public bool IsUnderWay => !isOver;

    /// <inheritdoc />
    public bool IsHeld => begun?.Control.Phase == RunPhase.Held;

    /// <inheritdoc />
    public string State => (isOver, begun?.Control.Phase) switch
    {
        (true, _) => string.Empty,
        (_, null) => $"connecting to {Order.Machine}",
        (_, RunPhase.Held) => $"{Order.Machine} HELD",
        (_, RunPhase.HoldAsked) => $"{Order.Machine} holding soon",
        (_, RunPhase.StopAsked) => $"{Order.Machine} stopping",
        (_, RunPhase.Halted) => $"{Order.Machine} HALTED",
        (_, RunPhase.Ended) => $"{Order.Machine} ending",
        _ => $"{Order.Machine} running",
    };

    /// <summary>Begins the run on other threads.</summary>
    /// <param name="store">The store's file; null for the usual place.</param>
    /// <param name="reportFolder">Where its report is written.</param>
    public void Start(string? store, string reportFolder)
    {
        clock.Change(TimeSpan.FromSeconds(1), TimeSpan.FromSeconds(1));
        var options = new SessionOptions(store, AnswersFile: null, Unattended: false, AllowHeat: null, Notices: NoticeSettings.None, Json: false, reportFolder, ConfirmEveryReading: false);
        Completion = Task.Run(() => GoAsync(options));
    }

    /// <summary>The terminal is gone, or the person has left: an attended run stops safely.</summary>
    public void Abandon(string why)
    {
        connecting.Cancel();
        begun?.Control.Stop(why);
        person?.Close();
    }

    /// <inheritdoc />
    public string HoldOrGoOn()
    {
        switch (begun?.Control.Phase)
        {
            case RunPhase.Running:
                _ = begun.Control.HoldAsync();
                return "Hold asked for: the motion in hand is finished, then the nozzle lifts and the probe is retracted. F5 goes on.";
            case RunPhase.Held or RunPhase.HoldAsked:
                begun.Control.Resume();
                return "Going on. The machine asks for clear hands first.";
            case null:
                return "Nothing moves yet: the machine is being connected. F7 gives that up.";
            default:
                return "The run is ending already; there is nothing to hold.";
        }
    }

    /// <inheritdoc />
    public string Stop()
    {
        if (isOver)
        {
            return "The run is over already; nothing of ours moves or heats.";
        }

        connecting.Cancel();
        begun?.Control.Stop();
        return "Stopping: the motion in hand is finished, then lift, park, heaters off. The run can be taken up again.";
    }

    /// <inheritdoc />
    public string Halt()
    {
        var sent = begun?.Control.Halt(); // before anything else: also when the run is over, in case the machine goes on
        isHalted |= sent == true;
        if (!isOver)
        {
            connecting.Cancel();
            pulse.Ask();
        }

        // The key comes twice, at once and by the screens: the machine may have been left in between.
        return (isHalted, sent) switch
        {
            (true, _) => "HALT sent. If anything still moves or heats: switch off at the mains.",
            (_, false) => "The HALT could NOT be sent. SWITCH OFF AT THE MAINS NOW.",
            _ => "Nothing has moved yet; connecting was given up.",
        };
    }

    /// <inheritdoc />
    IOperator IRunFace.PersonFor(MachineLink machine) => person = new ScreenOperator(machine.SimulatedPerson, context.Time, pulse.Ask);

    /// <inheritdoc />
    IDisposable IRunFace.Begin(BegunRun run)
    {
        begun = run;
        if (connecting.IsCancellationRequested)
        {
            run.Control.Stop();
        }

        pulse.Ask();
        return NothingToUndo.Instance; // signals are the terminal's business here, not the run's
    }

    /// <inheritdoc />
    IRunListener IRunFace.ListenerFor(MachineLink machine) => this;

    /// <inheritdoc />
    void IRunFace.End(EndedRun run) => ended = run;

    /// <inheritdoc />
    public void On(RunEvent runEvent)
    {
        told.Writer.TryWrite(runEvent);
        pulse.Ask();
    }

    /// <summary>Takes over what was told; on the screens' thread.</summary>
    public void TakeOver()
    {
        var view = View;
        if (view.IsEmpty && begun is { } run)
        {
            view = RunView.Of(run.Script, run.Machine.Printer.Profile);
        }

        while (told.Reader.TryRead(out var next))
        {
            view = view.After(next);
        }

        (View, lastMachine) = (view, Machine);
        Changed?.Invoke();
    }

    /// <inheritdoc />
    public void Dispose()
    {
        pulse.Dispose();
        clock.Dispose();
        connecting.Dispose();
    }

    private async Task GoAsync(SessionOptions options)
    {
        try
        {
            var session = new RunSession(context, options, this);
            _ = Order.Resumed is { } run
                ? await session.ResumeAsync(run, Order.Connection, connecting.Token)
                : await session.BeginAsync(new RunRequest(Order.Script, Order.Machine, Order.Connection, [], Seed: null), connecting.Token);
        }
        catch (OperationCanceledException)
        {
            failure = new Failure("Connecting was given up; nothing has moved.", ExitCodes.StoppedByOperator);
        }
        catch (Exception broken)
        {
            failure = Failures.Explain(broken)
                ?? new Failure($"Internal error: {broken.Message} What the run had recorded is kept. Please report it.", ExitCodes.InternalError);
        }
        finally
        {
            isOver = true;
            clock.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
            pulse.Ask();
        }
    }
}
