using System.Diagnostics;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Screens.After;

/// <summary>Opens results, comparisons and reports. Reading the store and writing files happen beside the screens' thread.</summary>
internal sealed class ResultsDesk(ProgramContext context, Desk desk, Action<Action> post, string storePath) : IResultActions
{
    /// <summary>Opens what a run came to.</summary>
    public void Open(string runId) => Aside(
        () => RunResults.Of(RunStore.OpenExisting(storePath).ReadSoundPart(runId)),
        found => desk.Open(new ResultsScreen(desk, found, this)));

    /// <summary>Compares a run's map with the one before it.</summary>
    public void Compare(string runId) => Aside(() => RunResults.Of(RunStore.OpenExisting(storePath).ReadSoundPart(runId)), CompareWithEarlier);

    /// <inheritdoc />
    public void CompareWithEarlier(RunResults results) => Compare(results, skip: 0);

    /// <inheritdoc />
    public void OpenReport(RunRecord record) => Aside(
        () =>
        {
            var path = Path.Combine(Path.GetDirectoryName(storePath)!, "reports", $"{record.Header.RunId}.html");
            Write(record, path);
            return (Path: path, IsShown: Show(path));
        },
        report => desk.Tell(report.IsShown ? $"Opened in the browser: {report.Path}" : $"There is no desktop to open it on; the report is {report.Path}"));

    /// <inheritdoc />
    public void SaveReport(RunRecord record) => desk.Open(new SaveScreen(
        desk,
        Path.GetFullPath($"{record.Header.RunId}.html"),
        path => Aside(
            () =>
            {
                Write(record, path);
                return Path.GetFullPath(path);
            },
            full => desk.Tell($"Written: {full}"))));

    private void Write(RunRecord record, string path)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(path))!);
        File.WriteAllText(path, ReportPage.Render(RunStore.OpenExisting(storePath), record));
    }

    private void Compare(RunResults later, int skip)
    {
        if (later.Map is not { Heights: { } after } map)
        {
            desk.Tell("This run captured no map to compare.", Role.Warning);
            return;
        }

        var header = later.Record.Header;
        Aside(
            () =>
            {
                var store = RunStore.OpenExisting(storePath);
                return store.List()
                    .Where(run => run.MachineName == header.MachineName && run.StartedAt < header.StartedAt && run.State != RunState.Damaged)
                    .Select(run => RunResults.Of(store.ReadSoundPart(run.RunId)))
                    .Where(results => results.Map?.Heights is not null)
                    .Skip(skip)
                    .FirstOrDefault();
            },
            earlier =>
            {
                if (earlier?.Map?.Heights is not { } before)
                {
                    desk.Tell(skip == 0 ? "There is no earlier map of this machine to compare with." : "That was the earliest map of this machine.", Role.Warning);
                    return;
                }

                var state = new CompareState(map.Bed, before, after, earlier.Record.Header.RunId, header.RunId, "The later less the earlier; a shift that is the same everywhere is the datum's, not the bed's.");
                CompareScreen? screen = null;
                screen = new CompareScreen(state, () =>
                {
                    desk.Close(screen!);
                    Compare(later, skip + 1);
                });
                desk.Open(screen);
            });
    }

    private bool Show(string path)
    {
        var hasDesktop = OperatingSystem.IsWindows() || OperatingSystem.IsMacOS()
            || !string.IsNullOrEmpty(context.Environment("DISPLAY")) || !string.IsNullOrEmpty(context.Environment("WAYLAND_DISPLAY"));
        if (!hasDesktop)
        {
            return false;
        }

        try
        {
            using var browser = Process.Start(new ProcessStartInfo(path) { UseShellExecute = true });
            return true;
        }
        catch (Exception failure) when (failure is InvalidOperationException or System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }

    /// <summary>Does something beside the screens' thread and shows what came of it there.</summary>
    private void Aside<T>(Func<T> work, Action<T> show) => _ = Task.Run(() =>
    {
        try
        {
            var done = work();
            post(() => show(done));
        }
        catch (Exception failure) when (failure is StoreUnusableException or JournalDamagedException or IOException or UnauthorizedAccessException or ArgumentException)
        {
            post(() => desk.Tell(failure.Message, Role.Bad));
        }
    });
}
