using System.Threading.Channels;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Guardian;
using ProbeRunner.Console.Narration;
using ProbeRunner.Console.Notices;
using ProbeRunner.Console.Operators;
using ProbeRunner.Console.Watches;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Steps.Restoring;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Wiring;

/// <summary>One session of a run: connect, run, tell, report. The one place where all parts meet.</summary>
/// <param name="context">The program's surroundings.</param>
/// <param name="options">How the session is done.</param>
/// <param name="face">Where it meets the person.</param>
internal sealed class RunSession(ProgramContext context, SessionOptions options, IRunFace face)
{
    /// <summary>A session on the command line, told in the way the options ask for.</summary>
    public static RunSession OnCommandLine(ProgramContext context, SessionOptions options) =>
        new(context, options, options.Json ? new JsonFace(context) : new PlainFace(context));

    /// <summary>Begins a new run.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public async Task<int> BeginAsync(RunRequest request, CancellationToken cancel)
    {
        var catalogue = ProgramFolders.Profiles(context);
        var files = RunFiles.ForNewRun(catalogue, request);
        var store = RunStore.Open(options.Store ?? StoreLocation.Default(context.Environment));
        await using var machine = await MachineLink.ConnectAsync(request.Connection, files.Profile, files.Dialect, PrinterOptionsOf(options), context, WireLogOf(store), cancel);
        files = files.WithEarlierCapture(catalogue, request, store, machine.IsSimulated).WithLastPlate(store, machine.IsSimulated);
        var header = await HeaderAsync(machine, files, request.Seed, cancel);
        return await RunAsync(machine, files, header, () => store.Create(header), store, cancel);
    }

    /// <summary>Puts the settings back that a recorded run found at its preflight; a recorded run of its own.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public async Task<int> RestoreAsync(string runId, Connection given, CancellationToken cancel)
    {
        var store = RunStore.OpenExisting(options.Store ?? StoreLocation.Default(context.Environment));
        store.ProveWritable();
        var earlier = store.Read(runId);
        var connection = Found(given, earlier.Header);
        var found = earlier.Conclusion<PreflightConclusion>()
            ?? throw new UsageException($"Run {runId} has no preflight on record, so what the controller's settings were is not known. Nothing was changed.");
        var files = RunFiles.OfRecordedRun(earlier.Header) with { Script = RestoreParameters.Of(runId, found, earlier.Entries).Script() };
        await using var machine = await MachineLink.ConnectAsync(connection, files.Profile, files.Dialect, PrinterOptionsOf(options), context, WireLogOf(store), cancel);
        if (!machine.IsSimulated && machine.PortIdentity != earlier.Header.PortIdentity)
        {
            throw new UsageException(
                $"Run {runId} was done on {earlier.Header.PortIdentity}; {machine.PortIdentity} is another port, perhaps another machine. Nothing was changed. Give the port that machine is on.");
        }

        var header = await HeaderAsync(machine, files, seed: null, cancel);
        RefuseAnotherMachine(earlier.Header, header);
        return await RunAsync(machine, files, header, () => store.Create(header), store, cancel);
    }

    /// <summary>Takes up a run that was cut off.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public async Task<int> ResumeAsync(string runId, Connection given, CancellationToken cancel)
    {
        var store = RunStore.OpenExisting(options.Store ?? StoreLocation.Default(context.Environment));
        store.ProveWritable();
        var header = store.ReadHeader(runId);
        var connection = Found(given, header);
        var files = RunFiles.OfRecordedRun(header);
        await using var machine = await MachineLink.ConnectAsync(connection, files.Profile, files.Dialect, PrinterOptionsOf(options, isResumed: true), context, WireLogOf(store), cancel);
        if (!machine.IsSimulated && machine.PortIdentity != header.PortIdentity)
        {
            throw new UsageException(
                $"Run {runId} was begun on {header.PortIdentity}; {machine.PortIdentity} is another port. Nothing has moved. Give the port the machine is on now.");
        }

        return await RunAsync(machine, files, header, () => store.OpenForResume(runId), store, cancel);
    }

    /// <summary>Says which machine a run is begun on, whatever its script asks of it: resumed on another, it is refused.</summary>
    private async Task<RunHeader> HeaderAsync(MachineLink machine, RunFiles files, ulong? seed, CancellationToken cancel)
    {
        var controller = await machine.Printer.IdentifyAsync(cancel);
        return files.Header(machine.PortIdentity, context.Time.GetUtcNow(), seed) with
        {
            ControllerIdentity = JournalJson.Write(controller),
            Geometry = JournalJson.Write(await MachineGeometry.ReadAsync(machine.Printer, cancel)),
        };
    }

    /// <summary>One machine's offset on another drives its nozzle into the bed.</summary>
    private static void RefuseAnotherMachine(RunHeader earlier, RunHeader now)
    {
        if (earlier.ControllerIdentity.Length > 0
            && SameMachine.Difference(JournalJson.Read<ControllerIdentity>(earlier.ControllerIdentity), JournalJson.Read<ControllerIdentity>(now.ControllerIdentity)) is { } difference)
        {
            throw new UsageException(
                $"This is not the machine that run {earlier.RunId} was done on: {difference}. Nothing was changed. Connect that machine; if it is the same with other firmware, enter the settings at the controller: the report of run {earlier.RunId} has them.");
        }
    }

    /// <summary>A stable name leads to the port wherever it is plugged in now.</summary>
    private static Connection Found(Connection given, RunHeader header) =>
        given is Connection.ToPort { Port: "" } unsaid ? unsaid with { Port = header.PortIdentity } : given;

    private async Task<int> RunAsync(MachineLink machine, RunFiles files, RunHeader header, Func<RunJournal> openJournal, RunStore store, CancellationToken cancel)
    {
        RunOutcome outcome;
        var runId = header.RunId;
        var person = PersonFor(machine);
        await using (var guard = await HeatGuard.ForAsync(files, header, machine.Link, GuardianRecordOf(store), options.Notices, context, cancel))
        {
            var settings = new RunOptions(ProgramVersion.Text, machine.IsSimulated, ShortestWait: machine.ShortestWait)
            {
                UnattendedHeat = await HeatPermission.DecideAsync(options, guard, files.Script, machine.Printer, store, cancel),
                Watches = [.. guard.Watches, new StopRequestWatch(store, runId, context.Time), DiskWatch.Of(store.Path, context.Time), new ClockWatch(context.Time)],
            };
            RunEngine.Check(files.Script, machine.Printer.Profile, person.IsPresent, settings.UnattendedHeat); // refused, a run leaves no record
            using var journal = openJournal();
            var engine = new RunEngine(machine.Printer, person, journal, files.Script, machine.Time, settings);
            using var watching = face.Begin(new BegunRun(runId, files.Script, machine, engine.Control));
            using var notices = new RunNotices(new NoticeSender(options.Notices, context.Error, context.Time), runId, header.MachineName, context.Time);
            var listening = Task.WhenAll(
                TellAsync(engine.Listen(), face.ListenerFor(machine)),
                options.Notices.AreEmpty ? Task.CompletedTask : TellAsync(engine.Listen(), notices));
            guard.Begin();
            outcome = await engine.RunAsync();
            await guard.EndAsync(outcome);
            await listening;
            await notices.EndAsync(outcome);
        }

        var exitCode = ExitCodes.Of(outcome);
        face.End(new EndedRun(runId, outcome, exitCode, WriteReport(store, runId), store.Path));
        return exitCode;
    }

    private IOperator PersonFor(MachineLink machine)
    {
        if (options.Unattended)
        {
            return new Nobody();
        }

        return options.AnswersFile is { } file ? AnswersFileOperator.Load(file) : face.PersonFor(machine);
    }

    private static async Task TellAsync(ChannelReader<RunEvent> events, IRunListener listener)
    {
        await foreach (var told in events.ReadAllAsync())
        {
            try
            {
                listener.On(told);
            }
            catch (IOException)
            {
                // A closed pipe must not disturb the run; everything is in the journal.
            }
        }
    }

    private string? WriteReport(RunStore store, string runId)
    {
        try
        {
            var folder = Directory.CreateDirectory(options.ReportFolder).FullName;
            var path = Path.Combine(folder, $"{runId}.html");
            File.WriteAllText(path, ReportPage.Render(store, store.Read(runId)));
            return path;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            context.Error.WriteLine($"The report could not be written: {failure.Message} The run itself is safe; write it later with: proberunner report {runId} -o FILE");
            return null;
        }
    }

    /// <summary>Beside the store, so that whoever copies one finds the other.</summary>
    private static string WireLogOf(RunStore store) => $"{store.Path}-wire/wire-.log";

    private static string GuardianRecordOf(RunStore store) => $"{store.Path}-guardian.log";

    private static PrinterOptions PrinterOptionsOf(SessionOptions options, bool isResumed = false) => new()
    {
        ConfirmEveryReading = options.ConfirmEveryReading,
        HeatersOffFirst = isResumed || options.Unattended,
    };
}
