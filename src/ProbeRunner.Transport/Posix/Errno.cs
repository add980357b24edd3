namespace ProbeRunner.Transport.Posix;

/// <summary>The error numbers that are told apart; the same on Linux and macOS unless noted.</summary>
internal static class Errno
{
    public const int NoPermission = 1;
    public const int NotThere = 2;
    public const int Interrupted = 4;
    public const int InputOutput = 5;
    public const int NoDevice = 6;
    public const int AccessDenied = 13;
    public const int Busy = 16;
    public const int NoSuchDevice = 19;
    public const int IsFolder = 21;
    public const int NotATerminal = 25;

    /// <summary>Linux; 35 on macOS.</summary>
    public const int TryAgain = 11;
}
