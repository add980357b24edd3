using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary><c>run</c>: carries out a run script, or one step, on a machine.</summary>
internal static class RunCommand
{
    /// <summary>The usual speed of the simulated printer.</summary>
    internal const double SimulatedSpeed = 60;

    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var script = new Argument<string>("SCRIPT") { Description = "A run script's or a step's name, or the path of a script. See the scripts command." };
        var machine = new Option<string>("--machine") { Description = "A machine profile's name or path. See the machines command.", HelpName = "M", Required = true };
        var simulate = new Option<string?>("--simulate")
        {
            Description = "Use the simulated printer, with a simulated person answering; a scenario's name or path may follow.",
            HelpName = "SCENARIO",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var port = SharedOptions.Port();
        var baud = SharedOptions.Baud();
        var senses = SharedOptions.Senses();
        var speed = SharedOptions.Speed(FormattableString.Invariant($"{SimulatedSpeed} with --simulate, 1 with --port; a real machine goes at its own"));
        var seed = SharedOptions.Seed();
        var set = SharedOptions.Set();
        var session = new SessionOptionSet();

        var command = new Command("run", "Carry out a run script, or one step, on a machine; it is recorded and can be resumed.")
        {
            script, machine, port, simulate, baud, senses, speed, seed, set,
        };
        session.AddTo(command);
        command.SetAction((parsed, cancel) =>
        {
            var wantsSimulator = parsed.GetResult(simulate) is not null;
            var connection = ConnectionOf(
                parsed.GetValue(port), parsed.GetValue(baud), parsed.GetValue(senses), parsed.GetValue(speed), parsed.GetValue(seed),
                wantsSimulator ? parsed.GetValue(simulate) ?? "good" : null);
            var request = new RunRequest(parsed.GetValue(script)!, parsed.GetValue(machine)!, connection, [.. parsed.GetValue(set) ?? []], parsed.GetValue(seed));
            return RunSession.OnCommandLine(context, session.Of(parsed)).BeginAsync(request, cancel);
        });
        return command;
    }

    /// <summary>How the machine is reached, by what was given; null for what was not.</summary>
    /// <exception cref="UsageException">It is not said, or said twice.</exception>
    internal static Connection ConnectionOf(string? port, int? baud, string? senses, double? speed, ulong? seed, string? scenario)
    {
        SharedOptions.CheckedSpeed(speed);
        return (port, scenario) switch
        {
            (null, null) => throw new UsageException("Say where the machine is: --port P, or --simulate for the simulated printer. proberunner ports lists the ports."),
            ({ }, { }) => throw new UsageException("--port and --simulate exclude each other."),
            ({ }, null) when speed > 1 && senses is null => throw new UsageException("--speed is for the simulated printer only; a real machine goes at its own."),
            ({ }, null) => new Connection.ToPort(port, baud, senses, speed ?? 1),
            _ => new Connection.ToSimulator(scenario!, seed, speed ?? SimulatedSpeed),
        };
    }
}
