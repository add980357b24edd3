namespace ProbeRunner.Console.Guardian;

/// <summary>What the main process and the guardian say to each other.</summary>
internal static class GuardianSigns
{
    /// <summary>From main: I am alive.</summary>
    public const byte Alive = (byte)'.';

    /// <summary>From main: the run has ended and the heaters are off.</summary>
    public const byte Ended = (byte)'!';

    /// <summary>From main: the run has ended, but the controller did not confirm that the heaters are off.</summary>
    public const byte NotConfirmed = (byte)'?';

    /// <summary>From the guardian, a line: I watch from now on.</summary>
    public const string Ready = "watching";

    /// <summary>From the guardian, a line: I was told of the end and leave.</summary>
    public const string Leaving = "leaving";
}
