using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary>The options of every command that carries out a run.</summary>
internal sealed class SessionOptionSet
{
    private readonly Option<string?> store = SharedOptions.Store();
    private readonly Option<string?> answers = SharedOptions.Answers();
    private readonly Option<bool> json = SharedOptions.Json();
    private readonly Option<string?> folder = SharedOptions.Out();

    private readonly Option<bool> confirm = new("--confirm-readings")
    {
        Description = "Confirm every reading by a second agreeing touch; takes twice the time, for a link that damages replies.",
    };

    /// <summary>Adds them to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in new Option[] { answers, store, folder, json, confirm })
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What was given.</summary>
    public SessionOptions Of(ParseResult parsed, bool unattended) => new(
        parsed.GetValue(store),
        parsed.GetValue(answers),
        unattended,
        parsed.GetValue(json),
        parsed.GetValue(folder) ?? ".",
        parsed.GetValue(confirm));
}
