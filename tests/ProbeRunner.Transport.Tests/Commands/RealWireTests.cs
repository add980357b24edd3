using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Terminals;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>The channel on real threads, over a real pseudo-terminal, with both classes that open a port.</summary>
public sealed class RealWireTests : IAsyncLifetime
{
    private static readonly ChannelOptions Options = ChannelOptions.Default with
    {
        Times = ChannelTimes.Default with { Listen = TimeSpan.FromMilliseconds(1), Quiet = TimeSpan.FromSeconds(1) },
    };

    private readonly string _claims = Directory.CreateTempSubdirectory("claims").FullName;
    private readonly CancellationToken _patience = new CancellationTokenSource(TimeSpan.FromSeconds(60), TimeProvider.System).Token;
    private PseudoTerminal _terminal = null!;
    private TinyController _controller = null!;
    private Task _running = Task.CompletedTask;

    public static TheoryData<SerialBackend> Backends => [SerialBackend.Descriptor, SerialBackend.SerialPort];

    public Task InitializeAsync()
    {
        _terminal = PseudoTerminal.Open();
        _controller = new TinyController(_terminal, TimeProvider.System);
        _running = _controller.RunAsync();
        return Task.CompletedTask;
    }

    public async Task DisposeAsync()
    {
        await _terminal.DisposeAsync();
        await _running;
        Directory.Delete(_claims, recursive: true);
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task A_hundred_moves_and_questions_are_answered_in_order(SerialBackend backend)
    {
        await using CommandChannel channel = await BeginAsync(backend);
        Assert.True(channel.IsNumbered);
        for (int i = 0; i < 100; i++)
        {
            await channel.SendAsync(Move($"X:{i} Y:0 Z:5"), _patience);
            Exchange exchange = await channel.SendAsync(Position, _patience);
            Assert.Equal($"X:{i} Y:0 Z:5", Assert.Single(exchange.Replies));
        }

        Assert.Equal((0, 0), (channel.Health.Resends, channel.Health.Errors));
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task Commands_given_at_once_from_many_threads_each_get_their_own_answer(SerialBackend backend)
    {
        await using CommandChannel channel = await BeginAsync(backend);
        await Parallel.ForEachAsync(Enumerable.Range(0, 50), _patience, async (_, cancel) =>
        {
            Exchange exchange = await channel.SendAsync(Position, cancel);
            Assert.Single(exchange.Replies);
        });
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task A_cable_pulled_during_a_touch_is_told_at_once(SerialBackend backend)
    {
        await using CommandChannel channel = await BeginAsync(backend);
        Task<Exchange> touch = channel.SendAsync(Touch("X1 Y1"), _patience);
        await _terminal.DisposeAsync();
        await Assert.ThrowsAsync<LinkLostException>(() => touch);
        await Assert.ThrowsAsync<LinkLostException>(() => channel.SendAsync(Position, _patience));
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task Halt_reaches_the_controller_while_a_command_waits(SerialBackend backend)
    {
        await using CommandChannel channel = await BeginAsync(backend);
        Task<Exchange> touch = channel.SendAsync(Touch("X1 Y1"), _patience);
        Assert.True(channel.Halt());
        await Assert.ThrowsAsync<ControllerHaltedException>(() => touch);
        await _controller.Halted.Task.WaitAsync(TimeSpan.FromSeconds(30), TimeProvider.System);
    }

    private async Task<CommandChannel> BeginAsync(SerialBackend backend)
    {
        ILink link = await LinkFactory.OpenAsync(
            new LinkAddress.Device(_terminal.DevicePath),
            new LinkOptions { Backend = backend, ClaimFolder = _claims },
            TimeProvider.System,
            _patience);
        var channel = new CommandChannel(link, Instance, TimeProvider.System, Options);
        await channel.BeginSessionAsync(_patience);
        return channel;
    }
}
