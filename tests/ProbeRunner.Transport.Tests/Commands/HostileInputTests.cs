using System.Text;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>Whatever comes from the wire: bounded memory, bounded time, a typed outcome.</summary>
public class HostileInputTests
{
    [Fact]
    public void Lines_of_a_megabyte_NULs_and_broken_text_around_an_answer_change_nothing() => Run(
        [
            .. Enumerable.Repeat((byte)'x', 1 << 20), (byte)'\n',
            0, 0, 0, (byte)'\n',
            0xFF, 0xFE, 0xC0, (byte)'\n',
            .. "X:1 Y:2 Z:3\r\nok\n"u8,
        ],
        async (channel, events) =>
        {
            Exchange exchange = await channel.SendAsync(Position, CancellationToken.None);
            Assert.Contains("X:1 Y:2 Z:3", exchange.Replies);
            Assert.Equal(new ChannelEvent.LineDiscarded(1 << 20), Assert.Single(events.OfType<ChannelEvent.LineDiscarded>()));
            Assert.Equal(1, channel.Health.DiscardedLines);
            Assert.All(channel.Trace.Recent(), entry => Assert.DoesNotContain('\0', entry.Printable));
        });

    [Fact]
    public void Endless_talk_without_an_acknowledgement_is_bounded_and_ends_in_silence() => Run(
        Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("la la la\n", 20_000))),
        async (channel, _) => await Assert.ThrowsAsync<LinkSilentException>(() => channel.SendAsync(Move("X1"), CancellationToken.None)));

    [Theory]
    [InlineData("Resend: 99999999999999999999\nok\n")]
    [InlineData("Resend: -5\nok\n")]
    [InlineData("ok N99999999999999999999\n")]
    [InlineData("rs\nok\n")]
    public void Wild_numbers_end_in_a_typed_outcome(string wild) => Run(
        Encoding.ASCII.GetBytes(wild),
        async (channel, _) =>
        {
            Exception? outcome = await Record.ExceptionAsync(() => channel.SendAsync(Move("X1"), CancellationToken.None));
            Assert.True(outcome is null or ControllerResetException or LinkSilentException or LineRefusedException, outcome?.ToString());
        });

    /// <summary>A session begun as scripted; the next line is answered by the given bytes, nothing is after it.</summary>
    private static void Run(byte[] answer, Func<CommandChannel, List<ChannelEvent>, Task> body) => VirtualTime.Run(async time =>
    {
        (DuplexLink host, DuplexLink far) = DuplexLink.CreatePair("hostile");
        Task answering = AnswerAsync(far, answer);
        var channel = new CommandChannel(host, Instance, time, ChannelOptions.Default with { Numbered = false });
        var events = new List<ChannelEvent>();
        channel.Happened += events.Add;
        await channel.BeginSessionAsync(CancellationToken.None);
        await body(channel, events);
        await channel.DisposeAsync();
        await answering;
    });

    private static async Task AnswerAsync(DuplexLink far, byte[] answer)
    {
        var lines = new LineSource(far);
        await lines.NextAsync(CancellationToken.None);
        await far.WriteAsync("ok T:21.4 /0.0\n"u8.ToArray(), CancellationToken.None);
        await lines.NextAsync(CancellationToken.None);
        await far.WriteAsync(answer, CancellationToken.None);
        while (await lines.NextOrEndAsync() is not null)
        {
        }
    }
}
