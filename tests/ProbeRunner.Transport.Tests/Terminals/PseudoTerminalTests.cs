using System.Text;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Posix;
using ProbeRunner.Transport.Terminals;

namespace ProbeRunner.Transport.Tests.Terminals;

/// <summary>Both serial link classes over a real pseudo-terminal.</summary>
public sealed class PseudoTerminalTests : IAsyncLifetime
{
    private readonly string _claims = Directory.CreateTempSubdirectory("claims").FullName;
    private readonly CancellationToken _patience = new CancellationTokenSource(TimeSpan.FromSeconds(30), TimeProvider.System).Token;
    private PseudoTerminal _far = null!;

    public static TheoryData<SerialBackend> Backends => [SerialBackend.Descriptor, SerialBackend.SerialPort];

    public Task InitializeAsync()
    {
        _far = PseudoTerminal.Open();
        return Task.CompletedTask;
    }

    public async Task DisposeAsync()
    {
        await _far.DisposeAsync();
        Directory.Delete(_claims, recursive: true);
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task Every_byte_value_passes_both_ways(SerialBackend backend)
    {
        await using ILink near = await OpenAsync(backend);
        byte[] all = [.. Enumerable.Range(0, 256).Select(value => (byte)value)];
        await near.WriteAsync(all, _patience);
        Assert.Equal(all, await ReadAsync(_far, 256));
        await _far.WriteAsync(all, _patience);
        Assert.Equal(all, await ReadAsync(near, 256));
    }

    [Theory]
    [InlineData(SerialBackend.Descriptor, 250_000)]
    [InlineData(SerialBackend.Descriptor, 115_200)]
    [InlineData(SerialBackend.SerialPort, 250_000)]
    public async Task Odd_bit_rates_are_taken(SerialBackend backend, int baud)
    {
        await using ILink near = await OpenAsync(backend, new LinkOptions { Baud = baud });
        await near.WriteAsync("ok\n"u8.ToArray(), _patience);
        Assert.Equal("ok\n"u8.ToArray(), await ReadAsync(_far, 3));
    }

    [Theory]
    [InlineData(ControlLines.Raise)]
    [InlineData(ControlLines.Lower)]
    public async Task A_device_without_control_lines_ignores_them(ControlLines lines)
    {
        foreach (SerialBackend backend in new[] { SerialBackend.Descriptor, SerialBackend.SerialPort })
        {
            await using ILink near = await OpenAsync(backend, new LinkOptions { ControlLines = lines });
            await near.WriteAsync("ok\n"u8.ToArray(), _patience);
            Assert.Equal(3, (await ReadAsync(_far, 3)).Length);
        }
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task A_pulled_cable_ends_a_waiting_read_and_everything_after(SerialBackend backend)
    {
        await using ILink near = await OpenAsync(backend);
        ValueTask<int> waiting = near.ReadAsync(new byte[16], _patience);
        await _far.DisposeAsync();
        await Assert.ThrowsAsync<LinkLostException>(async () => await waiting);
        await Assert.ThrowsAsync<LinkLostException>(async () => await near.ReadAsync(new byte[16], _patience));
        await Assert.ThrowsAsync<LinkLostException>(async () => await near.WriteAsync("x"u8.ToArray(), _patience));
        Assert.False(near.WriteUrgent("x"u8));
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task A_cancelled_read_loses_no_byte(SerialBackend backend)
    {
        await using ILink near = await OpenAsync(backend);
        using var stop = new CancellationTokenSource();
        ValueTask<int> waiting = near.ReadAsync(new byte[16], stop.Token);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await waiting);
        await _far.WriteAsync("after\n"u8.ToArray(), _patience);
        Assert.Equal("after\n"u8.ToArray(), await ReadAsync(near, 6));
    }

    [Fact]
    public async Task A_write_that_does_not_fit_is_finished_when_there_is_room()
    {
        await using ILink near = await OpenAsync(SerialBackend.Descriptor);
        byte[] much = new byte[1 << 20];
        new Random(7).NextBytes(much);
        Task writing = near.WriteAsync(much, _patience).AsTask();
        Assert.Equal(much, await ReadAsync(_far, much.Length));
        await writing;
    }

    [Fact]
    public async Task Urgent_bytes_get_past_a_full_device_and_a_write_that_waits_for_room()
    {
        int deaf = Libc.OpenPseudoTerminal(Libc.ReadWrite | Libc.NoControllingTerminal | Libc.NonBlocking);
        Assert.Equal(0, Libc.UnlockPseudoTerminal(deaf));
        await using (ILink near = await OpenAsync(SerialBackend.Descriptor, path: NameOf(deaf)))
        {
            Task writing = near.WriteAsync(new byte[1 << 20], _patience).AsTask();
            Assert.False(writing.IsCompleted);
            Assert.True(near.WriteUrgent("halt\n"u8));
            Assert.Contains("halt\n", Encoding.ASCII.GetString(Drain(deaf)), StringComparison.Ordinal);
        }

        Assert.Equal(0, Libc.Close(deaf));
    }

    [Theory]
    [InlineData(SerialBackend.Descriptor, SerialBackend.Descriptor)]
    [InlineData(SerialBackend.Descriptor, SerialBackend.SerialPort)]
    [InlineData(SerialBackend.SerialPort, SerialBackend.Descriptor)]
    public async Task A_second_console_is_refused_and_sends_no_byte(SerialBackend first, SerialBackend second)
    {
        await using ILink near = await OpenAsync(first);
        var refused = await Assert.ThrowsAsync<PortOpenException>(() => OpenAsync(second));
        Assert.Equal(PortProblem.InUse, refused.Problem);
        Assert.Equal(Environment.ProcessId, refused.HolderProcess);
        await near.WriteAsync("mine\n"u8.ToArray(), _patience);
        Assert.Equal("mine\n"u8.ToArray(), await ReadAsync(_far, 5));
    }

    [Fact]
    public async Task A_second_console_by_another_name_of_the_device_is_refused()
    {
        await using ILink near = await OpenAsync(SerialBackend.Descriptor);
        string alias = Path.Combine(_claims, "alias");
        File.CreateSymbolicLink(alias, _far.DevicePath);
        var refused = await Assert.ThrowsAsync<PortOpenException>(() => OpenAsync(SerialBackend.Descriptor, path: alias));
        Assert.Equal(PortProblem.InUse, refused.Problem);
    }

    [Fact]
    public async Task A_second_console_that_keeps_its_claims_elsewhere_is_refused_by_the_device_itself()
    {
        await using ILink near = await OpenAsync(SerialBackend.Descriptor);
        string elsewhere = Directory.CreateDirectory(Path.Combine(_claims, "elsewhere")).FullName;
        var refused = await Assert.ThrowsAsync<PortOpenException>(
            () => OpenAsync(SerialBackend.Descriptor, new LinkOptions { ClaimFolder = elsewhere }));
        Assert.Equal(PortProblem.InUse, refused.Problem);
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task A_port_that_was_closed_can_be_opened_again(SerialBackend backend)
    {
        await (await OpenAsync(backend)).DisposeAsync();
        await using ILink again = await OpenAsync(backend);
        await again.WriteAsync("again\n"u8.ToArray(), _patience);
        Assert.Equal("again\n"u8.ToArray(), await ReadAsync(_far, 6));
    }

    [Theory]
    [MemberData(nameof(Backends))]
    public async Task Bytes_from_before_the_opening_are_thrown_away(SerialBackend backend)
    {
        await _far.WriteAsync("stale\n"u8.ToArray(), _patience);
        await using ILink near = await OpenAsync(backend);
        await _far.WriteAsync("fresh\n"u8.ToArray(), _patience);
        Assert.Equal("fresh\n", Encoding.ASCII.GetString(await ReadAsync(near, 6)));
    }

    [Theory]
    [InlineData(SerialBackend.Descriptor)]
    [InlineData(SerialBackend.SerialPort)]
    public async Task A_missing_device_and_one_that_is_no_port_are_told_apart(SerialBackend backend)
    {
        string file = Path.Combine(_claims, "file");
        await File.WriteAllTextAsync(file, "not a port");
        Assert.Equal(PortProblem.NotThere, await ProblemOf(backend, "/dev/not-there"));
        Assert.Equal(PortProblem.NotSerial, await ProblemOf(backend, file));
    }

    [Fact]
    public async Task An_alias_leads_to_the_device_and_goes_with_it()
    {
        string alias = Path.Combine(_claims, "printer");
        PseudoTerminal terminal = PseudoTerminal.Open(alias);
        Assert.Equal(terminal.DevicePath, new FileInfo(alias).LinkTarget);
        await terminal.DisposeAsync();
        Assert.Null(new FileInfo(alias).LinkTarget);
    }

    private static unsafe string NameOf(int master)
    {
        byte* name = stackalloc byte[64];
        Assert.Equal(0, Libc.PseudoTerminalName(master, name, 64));
        return System.Runtime.InteropServices.Marshal.PtrToStringUTF8((nint)name)!;
    }

    private static unsafe byte[] Drain(int master)
    {
        var all = new List<byte>();
        byte* piece = stackalloc byte[4096];
        for (nint count; (count = Libc.Read(master, piece, 4096)) > 0;)
        {
            all.AddRange(new ReadOnlySpan<byte>(piece, (int)count));
        }

        return [.. all];
    }

    private async Task<PortProblem> ProblemOf(SerialBackend backend, string path)
        => (await Assert.ThrowsAsync<PortOpenException>(() => OpenAsync(backend, path: path))).Problem;

    private async Task<ILink> OpenAsync(SerialBackend backend, LinkOptions? options = null, string? path = null)
    {
        LinkOptions whole = (options ?? new LinkOptions()) with { Backend = backend };
        return await LinkFactory.OpenAsync(
            new LinkAddress.Device(path ?? _far.DevicePath),
            whole with { ClaimFolder = whole.ClaimFolder ?? _claims },
            TimeProvider.System,
            _patience);
    }

    private async Task<byte[]> ReadAsync(ILink link, int count)
    {
        byte[] bytes = new byte[count];
        int read = 0;
        while (read < count)
        {
            read += await link.ReadAsync(bytes.AsMemory(read), _patience);
        }

        return bytes;
    }
}
