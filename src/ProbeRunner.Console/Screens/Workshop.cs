using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.After;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Guide;
using ProbeRunner.Console.Screens.Profiles;
using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Screens.Start;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Screens;

/// <summary>What joins the screens: which one follows which, and the one run that can be under way at a time.</summary>
internal sealed class Workshop : IStartActions
{
    /// <summary>A person answers in real time, which a fast machine's clock counts many times over: it waits long.</summary>
    private static readonly TimeSpan SimulatedPatience = TimeSpan.FromHours(10);

    private readonly ProgramContext context;
    private readonly Desk desk;
    private readonly Action<Action> post;
    private readonly string storePath;
    private readonly double simulatedSpeed;
    private readonly StartScreen start;
    private readonly ResultsDesk results;
    private Remembered remembered;

    /// <summary>Opens the workshop with its start screen.</summary>
    /// <param name="context">The program's surroundings.</param>
    /// <param name="desk">The desk the screens lie on.</param>
    /// <param name="post">Has something done on the screens' thread.</param>
    /// <param name="storePath">The store's file.</param>
    /// <param name="simulatedSpeed">How many times faster than real the simulated printer goes.</param>
    public Workshop(ProgramContext context, Desk desk, Action<Action> post, string storePath, double simulatedSpeed)
    {
        (this.context, this.desk, this.post, this.storePath, this.simulatedSpeed) = (context, desk, post, storePath, simulatedSpeed);
        remembered = Remembered.Load(context);
        results = new ResultsDesk(context, desk, post, storePath);
        start = new StartScreen(desk, this, remembered);
        desk.Open(start);
    }

    /// <summary>The run that is, or was last, under way; null for none.</summary>
    public LiveRun? Live { get; private set; }

    private string ReportFolder => Path.Combine(Path.GetDirectoryName(storePath)!, "reports");

    /// <inheritdoc />
    public void LookAgain() => _ = Task.Run(() =>
    {
        var facts = StartSurvey.Take(context, storePath);
        post(() =>
        {
            start.Show(facts);
            if (!remembered.Visited && facts.Runs.IsEmpty && desk.Notice is null)
            {
                desk.Tell("First time here? g takes you on a guided visit on the simulated printer, where nothing real moves.");
            }
        });
    });

    /// <inheritdoc />
    public void Begin(MachineChoice machine, PortChoice port, ScriptChoice work)
    {
        var order = new RunOrder(work.Script?.Title ?? work.Name, machine.Name, ConnectionTo(port), work.Name);
        var place = port.IsSimulated
            ? "On the simulated printer: nothing real moves."
            : $"On {port.Title}. Clear the bed, keep the mains switch in reach and hands out: the machine will move and may heat. It asks before its first motion.";
        Remember(machine.Name, port.Name);
        desk.Open(new ConfirmScreen(desk, $"{order.Title} on {machine.Name}", $"{work.Script?.Purpose} {place}", "begin", 'b', () => Start(order)));
    }

    /// <inheritdoc />
    public void Resume(RunListing run, PortChoice? port) => _ = Task.Run(() =>
    {
        var (identity, isSimulated) = PortOf(run);
        post(() => Resume(run, ResumePort.Of(identity, isSimulated, start.AllPorts, port)));
    });

    private void Resume(RunListing run, ResumePort found)
    {
        if (found.Port is not { } port)
        {
            desk.Tell(found.Words, Role.Warning);
            return;
        }

        var order = new RunOrder($"{run.ScriptName}, taken up again", run.MachineName, ConnectionTo(port), run.ScriptName, run.RunId);
        desk.Open(new ConfirmScreen(
            desk,
            $"Take up {run.RunId} again",
            $"{Why(run)} The machine is met again on {found.Words}: same controller, heaters off, then homed again after you have confirmed that hands are clear. "
            + "Recorded readings are kept; nothing is measured twice that need not be.",
            "take up again",
            'b',
            () => Start(order)));
    }

    /// <inheritdoc />
    public void OpenResults(RunListing run) => results.Open(run.RunId);

    /// <inheritdoc />
    public void Compare(RunListing run) => results.Compare(run.RunId);

    /// <inheritdoc />
    public void NewMachine() => desk.Open(new NewMachineScreen(desk, SaveProfile));

    /// <inheritdoc />
    public void FirstVisit()
    {
        remembered = remembered with { Visited = true };
        remembered.Save(context);
        var connection = new Connection.ToSimulator("good", null, simulatedSpeed, SimulatedPatience);
        desk.Open(new FirstVisitScreen(desk, () => Start(new RunOrder("Trust the probe?", "wren-240", connection, "trust-probe", IsFirstVisit: true))));
    }

    private static string Why(RunListing run) => run.Outcome switch
    {
        RunOutcome.Stopped => "It was stopped.",
        RunOutcome.Halted => "It was halted; reset the controller first.",
        RunOutcome.Faulted faulted => $"It failed: {faulted.Why}",
        _ => "It was cut off.",
    };

    /// <summary>The port a run was on, as it is remembered; empty when its record can't be read.</summary>
    private (string Identity, bool IsSimulated) PortOf(RunListing run)
    {
        try
        {
            var record = RunStore.OpenExisting(storePath).ReadSoundPart(run.RunId);
            return (record.Header.PortIdentity, record.IsSimulated);
        }
        catch (Exception failure) when (failure is StoreUnusableException or JournalDamagedException or IOException)
        {
            return (string.Empty, false); // taking it up says what is wrong
        }
    }

    private Connection ConnectionTo(PortChoice port) => port.Scenario is { } scenario
        ? new Connection.ToSimulator(scenario, null, simulatedSpeed, SimulatedPatience)
        : new Connection.ToPort(port.Name, null, null, 1);

    private void Start(RunOrder order)
    {
        if (Live is { IsUnderWay: true })
        {
            desk.Tell("A run is under way already; one at a time.", Role.Warning);
            return;
        }

        Live?.Dispose();
        Live = new LiveRun(order, context, post);
        desk.Reins = Live;
        desk.Open(new RunScreen(desk, Live, OpenResultsOfLive));
        Live.Start(storePath, ReportFolder);
        _ = Live.Completion.ContinueWith(_ => LookAgain(), TaskScheduler.Default);
    }

    private void OpenResultsOfLive()
    {
        if (Live?.Ended is { } ended)
        {
            results.Open(ended.RunId);
        }
    }

    private void SaveProfile(ProfileDraft draft)
    {
        var path = Path.Combine(ProgramFolders.Own(context), "machines", $"{draft.Name}.toml");
        if (!draft.Name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter == '-') || File.Exists(path))
        {
            desk.Tell(File.Exists(path) ? $"{path} is there already and was left as it is; take another name." : "A machine's name has letters, digits and hyphens only.", Role.Warning);
            return;
        }

        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllText(path, draft.ToToml());
            desk.Tell($"Written: {path}. Open it in an editor and compare every value with the machine.");
            Remember(draft.Name, remembered.Port);
            LookAgain();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            desk.Tell($"The profile could not be written: {failure.Message}", Role.Bad);
        }
    }

    private void Remember(string machine, string port)
    {
        remembered = remembered with { Machine = machine, Port = port };
        if (remembered.Save(context) is { } trouble)
        {
            desk.Tell(trouble, Role.Warning);
        }
    }
}
