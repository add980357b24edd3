namespace ProbeRunner.Console.Screens.Shell;

/// <summary>No machine is connected.</summary>
internal sealed class NoReins : IReins
{
    private const string Nothing = "No machine is connected, so nothing of ours moves or heats.";

    /// <summary>The one there is.</summary>
    public static NoReins Instance { get; } = new();

    /// <inheritdoc />
    public bool IsUnderWay => false;

    /// <inheritdoc />
    public bool IsHeld => false;

    /// <inheritdoc />
    public string State => string.Empty;

    /// <inheritdoc />
    public string HoldOrGoOn() => Nothing;

    /// <inheritdoc />
    public string Stop() => Nothing;

    /// <inheritdoc />
    public string Halt() => Nothing;
}
