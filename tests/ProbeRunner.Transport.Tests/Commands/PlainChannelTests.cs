using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>Controllers without line numbers.</summary>
public class PlainChannelTests
{
    [Fact]
    public void Lines_go_out_as_they_are() => Play(
        ["-> G1 X10", "<- ok"],
        async (channel, _) =>
        {
            await channel.SendAsync(Move("X10"), CancellationToken.None);
            Assert.False(channel.IsNumbered);
        });

    [Fact]
    public void A_motion_that_was_not_answered_is_never_sent_again() => Play(
        ["-> G1 X10", "= silence 29.9", "~ 60"],
        async (channel, _) =>
        {
            var silent = await Assert.ThrowsAsync<LinkSilentException>(() => channel.SendAsync(Move("X10"), CancellationToken.None));
            Assert.Equal(CommandKind.Motion, silent.Kind);
        });

    [Fact]
    public void A_query_that_was_not_answered_is_asked_three_times() => Play(
        ["-> M114", "= silence 3.9", "-> M114", "= silence 2.4", "-> M114", "<- X:1 Y:2 Z:3", "<- ok"],
        async (channel, _) => Assert.Single((await channel.SendAsync(Position, CancellationToken.None)).Replies));

    [Fact]
    public void After_an_unanswered_motion_the_position_is_only_asked_in_step() => Play(
        [
            "-> G1 X10", "~ 30.5", "<- ok", "= silence 0.9", "-> M105", "<- ok T:1 /0", "-> M114", "<- X:1 Y:2 Z:3", "<- ok",
        ],
        async (channel, _) =>
        {
            await Assert.ThrowsAsync<LinkSilentException>(() => channel.SendAsync(Move("X10"), CancellationToken.None));
            Assert.Equal(["X:1 Y:2 Z:3"], (await channel.SendAsync(Position, CancellationToken.None)).Replies.ToArray());
        });

    [Fact]
    public void A_touch_waits_for_its_own_report_past_a_doubled_acknowledgement() => Play(
        ["-> G1 X10", "<- ok", "-> G30 X1 Y1", "<- ok", "~ 6", "<- Bed X: 1 Y: 1 Z: 0.1", "<- ok"],
        async (channel, _) =>
        {
            await channel.SendAsync(Move("X10"), CancellationToken.None);
            Assert.Single((await channel.SendAsync(Touch("X1 Y1"), CancellationToken.None)).Replies);
        });

    [Fact]
    public void An_unknown_command_is_told() => Play(
        ["-> M420 S1", "<- Unknown command: M420", "<- ok"],
        (channel, _) => Assert.ThrowsAsync<CommandUnknownException>(
            () => channel.SendAsync(new Command("M420 S1", CommandKind.Setting), CancellationToken.None)));

    [Fact]
    public void Errors_are_handed_on_as_replies() => Play(
        ["-> G30 X1 Y1", "<- Error: probing failed", "<- ok"],
        async (channel, _) => Assert.Equal(["Error: probing failed"], (await channel.SendAsync(Touch("X1 Y1"), CancellationToken.None)).Replies.ToArray()));

    private static void Play(string[] script, Func<CommandChannel, VirtualTime, Task> body) => Script.Run(false, script, body);
}
