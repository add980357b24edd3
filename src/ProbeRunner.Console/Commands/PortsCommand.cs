using System.CommandLine;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Ports;

namespace ProbeRunner.Console.Commands;

/// <summary><c>ports</c>: the serial ports, with the names that stay.</summary>
internal static class PortsCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Create(ProgramContext context)
    {
        var command = new Command("ports", "List the serial ports, each with the name that stays the same when it is re-plugged.");
        command.SetAction(_ =>
        {
            var ports = PortCatalogue.List();
            foreach (var port in ports)
            {
                context.Output.WriteLine(WireText.Printable($"{port.StableName,-48} {port.Device,-16} {port.Product}"));
            }

            if (ports.IsEmpty)
            {
                context.Error.WriteLine("No serial port was found. Plug the printer in and switch it on; a cable for charging only has no data wires.");
            }

            return ExitCodes.Fit;
        });
        return command;
    }
}
