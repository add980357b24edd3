using System.CommandLine;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Commands;

/// <summary><c>restore</c>: gives the controller back the settings that a run found at its preflight.</summary>
internal static class RestoreCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var run = new Argument<string>("RUN") { Description = "The run whose preflight found the settings. See the runs command." };
        var port = SharedOptions.Port();
        port.Required = true;
        var baud = SharedOptions.Baud();
        var senses = SharedOptions.Senses();
        var speed = SharedOptions.Speed(1);
        var session = new SessionOptionSet();
        var command = new Command("restore", "Put the probe offset and the correction mesh back as a run found them, read back and stored, after you confirm. Nothing moves.")
        {
            run, port, baud, senses, speed,
        };
        session.AddTo(command);
        command.SetAction((parsed, cancel) =>
        {
            var connection = new Connection.ToPort(
                parsed.GetValue(port)!, parsed.GetValue(baud), parsed.GetValue(senses), SharedOptions.CheckedSpeed(parsed.GetValue(speed)));
            return new RunSession(context, session.Of(parsed, unattended: false)).RestoreAsync(parsed.GetValue(run)!, connection, cancel);
        });
        return command;
    }
}
