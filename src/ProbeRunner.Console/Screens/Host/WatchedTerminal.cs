using System.Runtime.CompilerServices;
using Terminal.Gui.App;
using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Screens.Host;

/// <summary>
/// The library's terminal with our own input. The library makes its parts itself and takes others only by a constructor that it keeps to
/// its own tests, so that is what is called here; a test holds the library to it.
/// </summary>
/// <param name="input">Makes the input; called on the thread that will read it.</param>
internal sealed class WatchedTerminal(Func<WatchedInput> input) : AnsiComponentFactory(null, null, null)
{
    /// <summary>An application of the library's on this terminal, not yet begun.</summary>
    public IApplication Application() => (IApplication)Create(this);

    /// <inheritdoc />
    public override IInput<char> CreateInput() => input();

    [UnsafeAccessor(UnsafeAccessorKind.Constructor)]
    [return: UnsafeAccessorType("Terminal.Gui.App.ApplicationImpl, Terminal.Gui")]
    private static extern object Create(IComponentFactory factory);
}
