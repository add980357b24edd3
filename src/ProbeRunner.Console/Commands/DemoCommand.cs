using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary><c>demo</c>: the whole calibration on the simulated printer, with a simulated person.</summary>
internal static class DemoCommand
{
    /// <summary>The usual speed of the simulated printer: the whole calibration while one looks on.</summary>
    private const double DemoSpeed = 120;

    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var scenario = new Option<string>("--scenario")
        {
            Description = "Which machine to show: " + string.Join(", ", ProgramFolders.ScenarioNames(context)) + ".",
            HelpName = "NAME",
            DefaultValueFactory = _ => "good",
        };
        var seed = SharedOptions.Seed();
        var speed = SharedOptions.Speed(FormattableString.Invariant($"{DemoSpeed} unless given"));
        var session = new SessionOptionSet();
        var command = new Command("demo", "Show the whole calibration on a simulated printer, in under a minute. No machine is needed.") { scenario, seed, speed };
        session.AddTo(command);
        command.SetAction((parsed, cancel) =>
        {
            var name = parsed.GetValue(scenario)!;
            var request = new RunRequest(
                "commission",
                DemoMachine.Of(name),
                new Connection.ToSimulator(name, parsed.GetValue(seed), SharedOptions.CheckedSpeed(parsed.GetValue(speed)) ?? DemoSpeed),
                [],
                parsed.GetValue(seed));
            return RunSession.OnCommandLine(context, session.Of(parsed)).BeginAsync(request, cancel);
        });
        return command;
    }
}

/// <summary>Which of the two bench machines a scenario is set on.</summary>
internal static class DemoMachine
{
    /// <summary>The machine profile's name: a scenario named after the big machine is set on it, all others on the small one.</summary>
    public static string Of(string scenario) =>
        Path.GetFileNameWithoutExtension(scenario).StartsWith("heron", StringComparison.Ordinal) ? "heron-330" : "wren-240";
}
