using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Meeting the machine again on a resume, before anything moves: heaters off, and the same machine with the same geometry as before.</summary>
internal sealed class Reunion(IPrinter printer, RunHeader header, Replay replay)
{
    /// <summary>Settings by which a machine's motors turn into millimetres: other ones make other places of the recorded ones.</summary>
    private const string GeometrySetting = "steps per mm";

    /// <summary>Meets it.</summary>
    /// <exception cref="ResumeRefusedException">It is another machine, or its geometry was changed.</exception>
    public async Task MeetAsync()
    {
        await printer.HeatersOffAsync(CancellationToken.None);
        ControllerIdentity now = await printer.IdentifyAsync(CancellationToken.None);
        string? recorded = header.ControllerIdentity.Length > 0 ? header.ControllerIdentity : replay.Identity;
        if (recorded is not null)
        {
            Compare(JournalJson.Read<ControllerIdentity>(recorded), now);
        }

        if (replay.Settings is { } settings)
        {
            Compare(JournalJson.Read<SettingsReport>(settings), await printer.ReadSettingsAsync(CancellationToken.None));
        }
    }

    private static void Compare(ControllerIdentity then, ControllerIdentity now)
    {
        if ((then.Firmware, then.MachineName, then.SerialNumber) != (now.Firmware, now.MachineName, now.SerialNumber))
        {
            throw new ResumeRefusedException(
                $"This is not the machine that the run was begun on: it was \"{then.MachineName}\" {then.Firmware} {then.SerialNumber}, "
                + $"now it is \"{now.MachineName}\" {now.Firmware} {now.SerialNumber}. Nothing has moved. Connect the right machine, or start a new run.");
        }
    }

    private static void Compare(SettingsReport then, SettingsReport now)
    {
        string[] changed =
        [
            .. then.Values.Where(setting => setting.Key.StartsWith(GeometrySetting, StringComparison.Ordinal)
                    && now.Values.TryGetValue(setting.Key, out string? value) && value != setting.Value)
                .Select(setting => $"{setting.Key} was {setting.Value}, now {now.Values[setting.Key]}"),
        ];
        if (changed.Length > 0)
        {
            throw new ResumeRefusedException(
                $"The machine's geometry was changed since the run was begun: {string.Join("; ", changed)}. Nothing has moved. Put it back, or start a new run.");
        }
    }
}
