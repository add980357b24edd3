using System.CommandLine;
using ProbeRunner.Console.Screens;
using ProbeRunner.Console.Screens.Host;

namespace ProbeRunner.Console.Commands;

/// <summary>What the program does without a command: the bench screens.</summary>
internal static class ScreensCommand
{
    /// <summary>What is said where they cannot be shown.</summary>
    public const string NoTerminal = "The bench screens need a terminal for both input and output, and here is none. Everything they do can be done in plain lines.";

    /// <summary>Whether there is a terminal that can show them.</summary>
    public static bool HasTerminal(ProgramContext context) =>
        context.InputIsTerminal && context.OutputIsTerminal && context.Environment("TERM") is not "dumb";

    /// <summary>Makes them what the root command does.</summary>
    public static void AddTo(RootCommand root, ProgramContext context)
    {
        var colour = new Option<string>("--color") { Description = "Colours of the screens: auto, true, 16 or never.", HelpName = "WHICH", DefaultValueFactory = _ => "auto" };
        colour.AcceptOnlyFromAmong("auto", "true", "16", "never");
        var ground = new Option<string>("--ground") { Description = "Ground of the screens: auto, dark or light.", HelpName = "WHICH", DefaultValueFactory = _ => "auto" };
        ground.AcceptOnlyFromAmong("auto", "dark", "light");
        var ascii = new Option<bool>("--ascii") { Description = "Draw the screens with ASCII characters only." };
        var noMouse = new Option<bool>("--no-mouse") { Description = "Leave the mouse to the terminal." };
        var store = SharedOptions.Store();
        var usual = new ScreenOptions().SimulatedSpeed;
        var speed = SharedOptions.Speed(FormattableString.Invariant($"{usual} unless given"));
        foreach (var option in new Option[] { colour, ground, ascii, noMouse, store, speed })
        {
            root.Options.Add(option);
        }

        root.SetAction((parsed, _) => HasTerminal(context)
            ? ScreensProgram.RunAsync(
                context,
                new ScreenOptions(parsed.GetValue(colour)!, parsed.GetValue(ground)!, parsed.GetValue(ascii), !parsed.GetValue(noMouse), parsed.GetValue(store), SharedOptions.CheckedSpeed(parsed.GetValue(speed)) ?? usual))
            : throw new UsageException($"{NoTerminal} \"proberunner --help\" lists the commands."));
    }
}
