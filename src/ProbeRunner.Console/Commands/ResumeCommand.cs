using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary><c>resume</c>: takes up a run that was cut off.</summary>
internal static class ResumeCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var run = new Argument<string>("RUN") { Description = "The run's id. See the runs command." };
        var port = SharedOptions.Port();
        port.Required = true;
        var baud = SharedOptions.Baud();
        var senses = SharedOptions.Senses();
        var speed = SharedOptions.Speed(1);
        var session = new SessionOptionSet();
        var command = new Command("resume", "Take up a run that was cut off, at the first thing that is missing. Nothing acknowledged is taken twice.")
        {
            run, port, baud, senses, speed,
        };
        session.AddTo(command);
        command.SetAction((parsed, cancel) =>
        {
            var connection = new Connection.ToPort(
                parsed.GetValue(port)!, parsed.GetValue(baud), parsed.GetValue(senses), SharedOptions.CheckedSpeed(parsed.GetValue(speed)));
            return new RunSession(context, session.Of(parsed, unattended: false)).ResumeAsync(parsed.GetValue(run)!, connection, cancel);
        });
        return command;
    }
}
