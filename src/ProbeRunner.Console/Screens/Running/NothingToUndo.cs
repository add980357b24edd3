namespace ProbeRunner.Console.Screens.Running;

/// <summary>Stands where something could be disposed and nothing has to be.</summary>
internal sealed class NothingToUndo : IDisposable
{
    /// <summary>The one there is.</summary>
    public static NothingToUndo Instance { get; } = new();

    /// <inheritdoc />
    public void Dispose()
    {
    }
}
