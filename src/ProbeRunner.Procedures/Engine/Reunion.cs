using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Meeting the machine again on a resume, before anything moves: heaters off, and the same machine with the same geometry as before.</summary>
internal sealed class Reunion(IPrinter printer, RunHeader header, Replay replay)
{
    /// <summary>Meets it.</summary>
    /// <exception cref="ResumeRefusedException">It is another machine, or its geometry was changed.</exception>
    public async Task MeetAsync()
    {
        await printer.HeatersOffAsync(CancellationToken.None);
        ControllerIdentity now = await printer.IdentifyAsync(CancellationToken.None);
        string? recorded = header.ControllerIdentity.Length > 0 ? header.ControllerIdentity : replay.Identity;
        if (recorded is not null && SameMachine.Difference(JournalJson.Read<ControllerIdentity>(recorded), now) is { } difference)
        {
            throw new ResumeRefusedException($"This is not the machine that the run was begun on: {difference}. Nothing has moved. Connect the right machine, or start a new run.");
        }

        if (Recorded() is { } then)
        {
            string[] changes = [.. then.ChangesTo(await MachineGeometry.ReadAsync(printer, CancellationToken.None))];
            if (changes.Length > 0)
            {
                throw new ResumeRefusedException(
                    $"The machine's geometry was changed since the run was begun: {string.Join("; ", changes)}. Nothing has moved. Put it back, or start a new run.");
            }
        }
    }

    private MachineGeometry? Recorded() =>
        header.Geometry.Length > 0 ? JournalJson.Read<MachineGeometry>(header.Geometry)
        : replay.Settings is { } settings ? MachineGeometry.Of(JournalJson.Read<SettingsReport>(settings))
        : null;
}
