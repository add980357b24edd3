using System.Collections.Concurrent;
using System.Globalization;
using System.IO.Pipes;
using ProbeRunner.Console.Screens.Host;
using ProbeRunner.Console.Tests.Screens.Whole;
using Terminal.Gui.Drivers;

namespace ProbeRunner.Console.Tests.Screens.Host;

/// <summary>The terminal's input with nobody on the screens' side: what stops the machine waits for no screen.</summary>
[Collection(TerminalTests.Name)]
public sealed class WatchedInputTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private readonly AnonymousPipeServerStream keyboard = new(PipeDirection.Out);
    private readonly CancellationTokenSource end = new();
    private readonly ConcurrentQueue<char> typed = new();
    private readonly SemaphoreSlim halted = new(0);
    private readonly SemaphoreSlim hungUp = new(0);
    private readonly Task reading;

    public WatchedInputTests()
    {
        Environment.SetEnvironmentVariable("DisableRealDriverIO", "1");
        var input = InputFor(int.Parse(keyboard.GetClientHandleAsString(), CultureInfo.InvariantCulture));
        input.Initialize(typed);
        reading = Task.Run(() => ((IInput<char>)input).Run(end.Token));
    }

    [Fact]
    public async Task The_halt_key_is_acted_on_while_nobody_takes_the_characters()
    {
        keyboard.Write("?\u001b[20~"u8);
        Assert.True(await halted.WaitAsync(Patience));
        end.Cancel();
        await reading;
        Assert.Equal("?\u001b[20~", string.Concat(typed));
    }

    [Fact]
    public async Task A_character_that_comes_in_two_parts_is_one()
    {
        var bytes = "ø"u8.ToArray();
        keyboard.Write(bytes, 0, 1);
        keyboard.Flush();
        keyboard.Write(bytes, 1, 1);
        keyboard.Write("\u001c"u8);
        Assert.True(await halted.WaitAsync(Patience));
        end.Cancel();
        await reading;
        Assert.Equal("ø\u001c", string.Concat(typed));
    }

    [Fact]
    public async Task A_terminal_that_has_gone_is_told_after_its_last_characters()
    {
        keyboard.Write("q"u8);
        keyboard.Dispose();
        Assert.True(await hungUp.WaitAsync(Patience));
        Assert.Equal("q", string.Concat(typed));
        end.Cancel();
        await reading;
        Assert.Equal(0, hungUp.CurrentCount);
    }

    [Fact]
    public void The_library_takes_our_input()
    {
        using var made = new ManualResetEventSlim();
        using var application = new WatchedTerminal(() =>
        {
            made.Set();
            return InputFor(-1);
        }).Application();
        application.Init(DriverRegistry.Names.ANSI);
        Assert.True(made.IsSet);
    }

    public void Dispose()
    {
        end.Cancel();
        keyboard.Dispose();
        end.Dispose();
        halted.Dispose();
        hungUp.Dispose();
    }

    private WatchedInput InputFor(int descriptor) =>
        new(new SafetyKeyWatch(TimeProvider.System, () => new FakeRun { Noted = _ => halted.Release() }), () => { }, () => hungUp.Release(), descriptor);
}
