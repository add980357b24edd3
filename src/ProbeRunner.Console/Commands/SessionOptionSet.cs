using System.CommandLine;
using ProbeRunner.Console.Notices;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary>The options of every command that carries out a run.</summary>
internal sealed class SessionOptionSet
{
    private readonly Option<string?> store = SharedOptions.Store();
    private readonly Option<string?> answers = SharedOptions.Answers();
    private readonly Option<bool> json = SharedOptions.Json();
    private readonly Option<string?> folder = SharedOptions.Out();

    private readonly Option<bool> unattended = new("--unattended")
    {
        Description = "Nobody is at the machine: a script that needs a person is refused before anything moves, and heaters stay off.",
    };

    private readonly Option<double?> allowHeat = new("--allow-heat")
    {
        Description = "With --unattended: let the script's heaters be on, for at most so many minutes. Heated machines have burned down: see the maker's instructions.",
        HelpName = "MINUTES",
    };

    private readonly Option<string?> notifyCommand = new("--notify-command")
    {
        Description = "A shell command that gets a JSON notice on its standard input when the run ends, stops or waits for a person.",
        HelpName = "CMD",
    };

    private readonly Option<string?> notifyUrl = new("--notify-url") { Description = "Where that notice is posted.", HelpName = "URL" };

    private readonly Option<bool> confirm = new("--confirm-readings")
    {
        Description = "Confirm every reading by a second agreeing touch; takes twice the time, for a link that damages replies.",
    };

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { unattended, allowHeat, notifyCommand, notifyUrl, answers, store, folder, json, confirm })
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What was given.</summary>
    /// <exception cref="UsageException">A value is out of range.</exception>
    public SessionOptions Of(ParseResult parsed) => new(
        parsed.GetValue(store),
        parsed.GetValue(answers),
        parsed.GetValue(unattended),
        CheckedMinutes(parsed.GetValue(allowHeat)),
        NoticeSettings.Of(parsed.GetValue(notifyCommand), parsed.GetValue(notifyUrl)),
        parsed.GetValue(json),
        parsed.GetValue(folder) ?? ".",
        parsed.GetValue(confirm));

    private static TimeSpan? CheckedMinutes(double? minutes) => minutes switch
    {
        null => null,
        >= 1 and <= 1440 => TimeSpan.FromMinutes(minutes.Value),
        _ => throw new UsageException("--allow-heat takes 1 to 1440 minutes."),
    };
}
