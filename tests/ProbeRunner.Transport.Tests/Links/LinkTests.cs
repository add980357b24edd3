using System.Net;
using System.Net.Sockets;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Links;

public class LinkTests
{
    private static readonly LinkOptions Options = new();

    private readonly CancellationToken _patience = new CancellationTokenSource(TimeSpan.FromSeconds(30), TimeProvider.System).Token;

    [Theory]
    [InlineData("/dev/ttyUSB0", "/dev/ttyUSB0")]
    [InlineData(" COM3 ", "COM3")]
    [InlineData("tcp://bridge.example:7000", "tcp://bridge.example:7000")]
    [InlineData("tcp://[::1]:7000", "tcp://[::1]:7000")]
    public void An_address_is_read_as_it_is_written(string written, string meant) => Assert.Equal(meant, LinkAddress.Parse(written).Text);

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("tcp://bridge")]
    [InlineData("tcp://bridge:0")]
    [InlineData("tcp://bridge:70000")]
    [InlineData("tcp://bridge:7000/path")]
    [InlineData("http://bridge:7000")]
    [InlineData("/dev/tty\u001b[2J")]
    public void What_is_no_address_is_refused(string written)
    {
        var refusal = Assert.Throws<FormatException>(() => LinkAddress.Parse(written));
        Assert.DoesNotContain('\u001b', refusal.Message);
    }

    [Fact]
    public async Task A_network_bridge_carries_bytes_both_ways_until_it_closes()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        int port = ((IPEndPoint)listener.LocalEndpoint).Port;
        await using ILink near = await LinkFactory.OpenAsync(new LinkAddress.Tcp("127.0.0.1", port), Options, TimeProvider.System, _patience);
        TcpLink far = TcpLink.Of(await listener.AcceptSocketAsync(_patience), "far");

        await near.WriteAsync("there\n"u8.ToArray(), _patience);
        Assert.Equal("there\n"u8.ToArray(), await ReadAsync(far, 6));
        await far.WriteAsync("back\n"u8.ToArray(), _patience);
        Assert.Equal("back\n"u8.ToArray(), await ReadAsync(near, 5));
        Assert.True(near.WriteUrgent("halt\n"u8));
        Assert.Equal("halt\n"u8.ToArray(), await ReadAsync(far, 5));
        await near.WriteAsync("after\n"u8.ToArray(), _patience);
        Assert.Equal("after\n"u8.ToArray(), await ReadAsync(far, 6));

        await far.DisposeAsync();
        await Assert.ThrowsAsync<LinkLostException>(async () => await near.ReadAsync(new byte[8], _patience));
    }

    [Fact]
    public async Task A_bridge_that_is_not_there_is_told_with_its_address()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        int port = ((IPEndPoint)listener.LocalEndpoint).Port;
        listener.Stop();
        var failure = await Assert.ThrowsAsync<PortOpenException>(async () => await LinkFactory.OpenAsync(
            new LinkAddress.Tcp("127.0.0.1", port), Options with { OpenWithin = TimeSpan.FromSeconds(1) }, TimeProvider.System, _patience));
        Assert.Equal(PortProblem.Failed, failure.Problem);
        Assert.Contains($"tcp://127.0.0.1:{port}", failure.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(299)]
    [InlineData(4_000_001)]
    public async Task A_bit_rate_out_of_range_is_refused(int baud) => await Assert.ThrowsAsync<ArgumentOutOfRangeException>(
        async () => await LinkFactory.OpenAsync(new LinkAddress.Device("/dev/null"), Options with { Baud = baud }, TimeProvider.System, _patience));

    [Fact]
    public void In_process_ends_carry_bytes_in_order_and_a_closed_end_ends_the_other_after_what_was_written() => VirtualTime.Run(async time =>
    {
        (DuplexLink host, DuplexLink controller) = DuplexLink.CreatePair("pair");
        await host.WriteAsync("one "u8.ToArray(), CancellationToken.None);
        Assert.True(host.WriteUrgent("two"u8));
        await host.DisposeAsync();
        Assert.Equal("one two"u8.ToArray(), await ReadAsync(controller, 7));
        await Assert.ThrowsAsync<LinkLostException>(async () => await controller.ReadAsync(new byte[1], CancellationToken.None));
        await Assert.ThrowsAsync<LinkLostException>(async () => await controller.WriteAsync("x"u8.ToArray(), CancellationToken.None));
        Assert.False(controller.WriteUrgent("x"u8));
        Assert.Equal(0, time.ForeignPosts);
    });

    [Fact]
    public void A_waiting_read_of_an_in_process_end_can_be_cancelled_and_loses_nothing() => VirtualTime.Run(async time =>
    {
        (DuplexLink host, DuplexLink controller) = DuplexLink.CreatePair("pair");
        using var stop = new CancellationTokenSource(TimeSpan.FromSeconds(1), time);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await host.ReadAsync(new byte[8], stop.Token));
        await controller.WriteAsync("later"u8.ToArray(), CancellationToken.None);
        Assert.Equal("later"u8.ToArray(), await ReadAsync(host, 5));
        Assert.Equal(0, time.ForeignPosts);
    });

    private static async Task<byte[]> ReadAsync(ILink link, int count)
    {
        byte[] bytes = new byte[count];
        int read = 0;
        while (read < count)
        {
            read += await link.ReadAsync(bytes.AsMemory(read), CancellationToken.None);
        }

        return bytes;
    }
}
