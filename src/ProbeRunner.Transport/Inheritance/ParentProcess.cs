using System.Runtime.Versioning;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Inheritance;

/// <summary>The process that started this one, seen from the child.</summary>
[SupportedOSPlatform("linux")]
public static class ParentProcess
{
    /// <summary>Its number; another one once the one that started this process has ended.</summary>
    public static int Id => Libc.ParentProcess();

    /// <summary>Ends it at once if it is still the one that is meant: a number alone could belong to another process by now.</summary>
    /// <returns>Whether it was there to be ended.</returns>
    public static bool End(int process) => Id == process && Libc.Signal(process, Libc.SignalKill) == 0;
}
