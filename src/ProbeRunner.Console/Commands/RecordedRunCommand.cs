using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary>A command that goes to the machine with a recorded run: <c>resume</c> and <c>restore</c>.</summary>
internal static class RecordedRunCommand
{
    /// <summary>Makes the command.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="description">What it does.</param>
    /// <param name="context">The program.</param>
    /// <param name="act">Does it, with the session, the run's id and the machine; gives the exit code.</param>
    public static Command Create(string name, string description, ProgramContext context, Func<RunSession, string, Connection.ToPort, CancellationToken, Task<int>> act)
    {
        var run = new Argument<string>("RUN") { Description = "The run's id. See the runs command." };
        var port = SharedOptions.Port();
        port.Description = "Where the machine is now; the port it was on unless given, found again by its stable name when it was plugged in elsewhere.";
        var baud = SharedOptions.Baud();
        var senses = SharedOptions.Senses();
        var speed = SharedOptions.Speed("1 unless given; a real machine goes at its own");
        var session = new SessionOptionSet();
        var command = new Command(name, description) { run, port, baud, senses, speed };
        session.AddTo(command);
        command.SetAction((parsed, cancel) =>
        {
            var connection = new Connection.ToPort(
                parsed.GetValue(port) ?? "", parsed.GetValue(baud), parsed.GetValue(senses), SharedOptions.CheckedSpeed(parsed.GetValue(speed)) ?? 1);
            return act(RunSession.OnCommandLine(context, session.Of(parsed)), parsed.GetValue(run)!, connection, cancel);
        });
        return command;
    }
}
