using ProbeRunner.Transport.Ports;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Links;

/// <summary>Words for what the operating system says when a port can't be opened.</summary>
internal static class PortProblems
{
    public static PortOpenException Of(string port, int error, Exception? inner = null) => error switch
    {
        Errno.NotThere or Errno.NoDevice or Errno.NoSuchDevice => NotThere(port, inner),
        Errno.AccessDenied or Errno.NoPermission => NoPermission(port, inner),
        Errno.Busy or Errno.TryAgain => InUse(port, DeviceFile.HolderOf(port), inner),
        Errno.NotATerminal or Errno.IsFolder => NotSerial(port, inner),
        _ => new PortOpenException(
            port, PortProblem.Failed, $"{port} could not be opened (error {error}). Unplug the cable, plug it in again, and try again.", null, inner),
    };

    public static PortOpenException InUse(string port, int? holder, Exception? inner = null) => new(
        port,
        PortProblem.InUse,
        $"{port} is in use by {(holder is int process ? $"process {process}" : "another program")}. Nothing was sent to the machine. Close that program, then try again.",
        holder,
        inner);

    public static PortOpenException NotThere(string port, Exception? inner = null) => new(
        port,
        PortProblem.NotThere,
        $"There is no port {port}. Plug the machine in and switch it on; “proberunner ports” lists the ports there are.",
        null,
        inner);

    public static PortOpenException NotSerial(string port, Exception? inner = null) => new(
        port, PortProblem.NotSerial, $"{port} is not a serial port. “proberunner ports” lists the ports there are.", null, inner);

    private static PortOpenException NoPermission(string port, Exception? inner)
    {
        string remedy = DeviceFile.GroupOf(port) is string group
            ? $"It belongs to the group “{group}”. Run “sudo usermod -a -G {group} {Environment.UserName}”, log out and in again."
            : "Ask whoever looks after this computer for access.";
        return new PortOpenException(port, PortProblem.NoPermission, $"You may not open {port}. {remedy}", null, inner);
    }
}
