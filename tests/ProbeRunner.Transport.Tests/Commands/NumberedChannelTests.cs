using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>The variants of the wire, each replayed as a conversation with a controller that checks numbers and checksums.</summary>
public class NumberedChannelTests
{
    private static readonly Command Setting = new("M211 S0", CommandKind.Setting);
    private static readonly Command WaitForMotion = new("M400", CommandKind.LongMotion);

    [Theory]
    [InlineData("ok")]
    [InlineData("ok P15 B3")]
    [InlineData("ok N1001 P15 B3")]
    [InlineData("OK")]
    [InlineData(" ok ")]
    public void Every_shape_of_acknowledgement_completes_a_command(string acknowledgement) => Play(
        ["-> #1001 M211 S0", $"<- {acknowledgement}"],
        async channel =>
        {
            Exchange exchange = await Send(channel, Setting);
            Assert.Equal(acknowledgement, exchange.Acknowledgement);
            Assert.Empty(exchange.Replies);
        });

    [Fact]
    public void Replies_before_the_acknowledgement_belong_to_the_command() => Play(
        ["-> #1001 M114", "<- X:110.00 Y:110.00 Z:5.00 E:0.00 Count X:8800", "<- ok"],
        async channel => Assert.Equal("X:110.00 Y:110.00 Z:5.00 E:0.00 Count X:8800", Assert.Single((await Send(channel, Position)).Replies)));

    [Fact]
    public void Temperatures_behind_the_acknowledgement_are_the_answer() => Play(
        ["-> #1001 M105", "<- ok T:21.4 /0.0 B:21.0 /0.0 @:0 B@:0"],
        async channel => Assert.StartsWith("ok T:21.4", (await Send(channel, Instance.Question)).Acknowledgement, StringComparison.Ordinal));

    [Theory]
    [InlineData("Resend: 1001")]
    [InlineData("rs 1001")]
    [InlineData("rs N1001")]
    [InlineData("RESEND:1001")]
    public void A_refused_line_is_sent_again_after_the_refusal_is_complete(string resend) => Play(
        [
            "-> #1001 G1 X10", "<- Error: checksum mismatch, last good line 1000", $"<- {resend}", "= silence 0.5", "<- ok",
            "-> #1001 G1 X10", "<- ok", .. Script.Question(1002),
        ],
        async channel =>
        {
            Exchange exchange = await Send(channel, Move("X10"));
            Assert.Empty(exchange.Replies);
            Assert.Equal(1, channel.Health.Resends);
        });

    [Fact]
    public void A_refusal_that_is_never_completed_is_served_after_quiet() => Play(
        ["-> #1001 G1 X10", "<- Resend: 1001", "= silence 0.9", "-> #1001 G1 X10", "<- ok", .. Script.Question(1002)],
        channel => Send(channel, Move("X10")));

    [Fact]
    public void A_line_refused_eight_times_is_given_up() => Play(
        [.. Enumerable.Repeat<string[]>(["-> #1001 G1 X10", "<- Error: checksum", "<- Resend: 1001", "<- ok"], 8).SelectMany(step => step)],
        async channel =>
        {
            var refused = await Assert.ThrowsAsync<LineRefusedException>(() => Send(channel, Move("X10")));
            Assert.Equal(8, refused.Attempts);
            Assert.Equal("Error: checksum", refused.LastError);
        });

    [Fact]
    public void The_number_of_a_line_that_was_given_up_is_filled_by_a_question() => Play(
        [
            .. Enumerable.Repeat<string[]>(["-> #1001 G1 X10", "<- Resend: 1001", "<- ok"], 8).SelectMany(step => step),
            "-> #1002 M105", "<- Error: line number", "<- Resend: 1001", "<- ok",
            "-> #1001 M105", "<- ok T:20 /0", "-> #1002 M105", "<- ok T:20 /0", .. Script.Question(1003),
            "-> #1004 M114", "<- X:0 Y:0 Z:0", "<- ok",
        ],
        async channel =>
        {
            await Assert.ThrowsAsync<LineRefusedException>(() => Send(channel, Move("X10")));
            await Send(channel, Position);
        });

    [Fact]
    public void Keep_alives_prolong_the_wait_and_are_no_replies() => Play(
        [
            "-> #1001 G30 X10 Y20",
            .. Enumerable.Repeat<string[]>(["~ 15", "<- echo:busy: processing", "~ 15", "<- busy: processing"], 10).SelectMany(step => step),
            "<- Bed X: 10.00 Y: 20.00 Z: 0.123", "<- ok",
        ],
        async channel => Assert.Equal("Bed X: 10.00 Y: 20.00 Z: 0.123", Assert.Single((await Send(channel, Touch("X10 Y20"))).Replies)));

    [Fact]
    public void Lines_nobody_asked_for_do_not_complete_a_command() => Play(
        [
            "-> #1001 M114", "<- echo: something", "<- // a remark", "<- T:21.4 /0.0", "<- wait", "<- X:1 Y:2 Z:3", "<- ok",
        ],
        async channel =>
        {
            var temperatures = new List<string>();
            channel.Happened += happened => temperatures.AddRange(happened is ChannelEvent.TemperatureReported report ? [report.Line] : []);
            Exchange exchange = await Send(channel, Position);
            Assert.Equal(["echo: something", "// a remark", "X:1 Y:2 Z:3"], exchange.Replies.ToArray());
            Assert.Equal(["T:21.4 /0.0"], temperatures);
        });

    [Fact]
    public void An_unknown_command_is_asked_again_under_its_number_and_then_believed() => Play(
        [
            "-> #1001 M420 S1", "<- echo:Unknown command: \"M420 S1\"", "<- ok", "= silence 0.9",
            "-> #1001 M420 S1", "<- Error: line number is not last + 1", "<- Resend: 1002", "<- ok",
        ],
        async channel =>
        {
            var unknown = await Assert.ThrowsAsync<CommandUnknownException>(() => Send(channel, new Command("M420 S1", CommandKind.Setting)));
            Assert.Contains("Unknown command", unknown.Line, StringComparison.Ordinal);
        });

    [Fact]
    public void An_unknown_command_answer_to_a_damaged_line_number_means_that_the_line_was_not_taken() => Play(
        [
            "-> #1001 G1 X10", "<- unknown command: \"O1001 G1 X10*33\"", "<- ok", "= silence 0.9",
            "-> #1001 G1 X10", "<- ok", .. Script.Question(1002),
        ],
        channel => Send(channel, Move("X10")));

    [Fact]
    public void A_resend_request_that_follows_an_unknown_command_answer_is_served() => Play(
        [
            "-> #1001 G1 X10", "<- unknown command: \"O1001\"", "<- ok", "<- Error: no checksum", "<- Resend: 1001", "<- ok",
            "-> #1001 G1 X10", "<- ok", .. Script.Question(1002),
        ],
        channel => Send(channel, Move("X10")));

    [Fact]
    public void An_error_without_a_resend_request_is_asked_again_under_the_same_number() => Play(
        [
            "-> #1001 G1 X10", "<- Error: something", "<- ok", "-> #1001 G1 X10", "<- Resend: 1002", "<- ok", .. Script.Question(1002),
        ],
        async channel => Assert.Equal("Error: something", Assert.Single((await Send(channel, Move("X10"))).Replies)));

    [Fact]
    public void After_silence_the_same_number_is_repeated() => Play(
        ["-> #1001 G1 X10", "= silence 29", "-> #1001 G1 X10", "<- ok", .. Script.Question(1002), "= silence 0.9", .. Script.Question(1003), "-> #1004 M114", "<- X:1 Y:2 Z:3", "<- ok"],
        async channel =>
        {
            await Send(channel, Move("X10"));
            await Send(channel, Position);
        });

    [Fact]
    public void A_request_for_the_next_number_means_that_the_line_was_had() => Play(
        [
            "-> #1001 M114", "<- X:1 Y:2 Z:3", "= silence 2.9",
            "-> #1001 M114", "<- Error: line number", "<- Resend: 1002", "<- ok",
            "-> #1001 M114", "<- Error: line number", "<- Resend: 1002", "<- ok",
            .. Script.Question(1002),
        ],
        async channel =>
        {
            Exchange exchange = await Send(channel, Position);
            Assert.Equal("X:1 Y:2 Z:3", Assert.Single(exchange.Replies));
            Assert.Empty(exchange.Acknowledgement);
        });

    [Fact]
    public void One_damaged_request_for_the_next_number_does_not_pass_for_an_acknowledgement() => Play(
        [
            "-> #1001 G1 X10", "<- Error: checksum", "<- Resend: 1002", "<- ok",
            "-> #1001 G1 X10", "<- ok", .. Script.Question(1002),
        ],
        channel => Send(channel, Move("X10")));

    [Fact]
    public void Silence_is_told_within_twice_the_deadline_and_names_the_command() => Play(
        ["-> #1001 M114", "-> #1001 M114", "-> #1001 M114"],
        async (channel, time) =>
        {
            TimeSpan before = time.Elapsed;
            var silent = await Assert.ThrowsAsync<LinkSilentException>(() => Send(channel, Position));
            Assert.Equal((CommandKind.Query, "M114"), (silent.Kind, silent.LastSent));
            Assert.Equal(2 * ChannelTimes.Default.Query, silent.Silence);
            Assert.Equal(2 * ChannelTimes.Default.Query, time.Elapsed - before);
        });

    [Fact]
    public void A_request_for_a_line_long_gone_is_a_reset_and_is_not_served() => Play(
        ["-> #1001 M211 S0", "<- ok N1001", "-> #1002 G1 X10", "<- Error: line number", "<- Resend: 1", "<- ok"],
        async channel =>
        {
            await Send(channel, Setting);
            await Assert.ThrowsAsync<ControllerResetException>(() => Send(channel, Move("X10")));
            Assert.Equal(1, channel.ResetCount);
            await Assert.ThrowsAsync<ControllerResetException>(() => Send(channel, Move("X20")));
        });

    [Fact]
    public void A_line_acknowledged_without_its_number_and_then_wanted_is_served_before_the_next() => Play(
        [
            "-> #1001 G1 X10", "<- ok",
            "-> #1002 G1 X20", "<- Error: line number", "<- Resend: 1001", "<- ok",
            "-> #1001 G1 X10", "<- ok", "-> #1002 G1 X20", "<- ok", .. Script.Question(1003),
        ],
        async channel =>
        {
            await Send(channel, Move("X10"));
            await Send(channel, Move("X20"));
        });

    [Fact]
    public void A_step_that_must_not_be_repeated_is_not_served_again_but_reported() => Play(
        [
            "-> #1001 G1 Z0.1", "<- ok",
            "-> #1002 M105", "<- Error: line number", "<- Resend: 1001", "<- ok",
            "-> #1001 M105", "<- ok T:1 /0", "-> #1002 M105", "<- ok T:1 /0", .. Script.Question(1003),
        ],
        channel => Assert.ThrowsAsync<CommandUncertainException>(() => Send(channel, Move("Z0.1") with { Repeatable = false })));

    [Fact]
    public void A_doubled_acknowledgement_in_between_is_noticed_and_answered_by_quiet_and_a_question() => Play(
        [
            "-> #1001 M211 S0", "<- ok", "<- ok", "= silence 0.9", .. Script.Question(1002), "-> #1003 M114", "<- X:1 Y:2 Z:3", "<- ok",
        ],
        async (channel, time) =>
        {
            await Send(channel, Setting);
            await Task.Delay(TimeSpan.FromMilliseconds(1), time);
            Assert.StartsWith("X:1", (await Send(channel, Position)).Replies[0], StringComparison.Ordinal);
            Assert.Equal(1, channel.Health.StrayLines);
        });

    [Fact]
    public void A_doubled_acknowledgement_that_comes_after_the_next_question_is_not_its_answer() => Play(
        [
            "-> #1001 M211 S0", "<- ok", "-> #1002 M114", "<- ok", "~ 0.2", "<- X:1 Y:2 Z:3", "<- ok",
            "= silence 0.9", .. Script.Question(1003), "-> #1004 M114", "<- X:4 Y:5 Z:6", "<- ok",
        ],
        async channel =>
        {
            await Send(channel, Setting);
            Assert.Equal(["X:1 Y:2 Z:3"], (await Send(channel, Position)).Replies.ToArray());
            Assert.Equal(["X:4 Y:5 Z:6"], (await Send(channel, Position)).Replies.ToArray());
        });

    [Fact]
    public void A_doubled_acknowledgement_does_not_end_the_wait_for_motion() => Play(
        [
            "-> #1001 G1 X10", "<- ok", "-> #1002 M400", "<- ok", "-> #1003 M105", "= silence 8", "<- ok", "<- ok T:1 /0",
        ],
        async (channel, time) =>
        {
            await Send(channel, Move("X10"));
            TimeSpan before = time.Elapsed;
            await Send(channel, WaitForMotion);
            Assert.True(time.Elapsed - before >= TimeSpan.FromSeconds(8));
        });

    [Fact]
    public void A_late_acknowledgement_with_another_number_is_not_this_commands() => Play(
        ["-> #1001 G1 X10", "<- ok N1000", "= silence 5", "<- ok N1001", "= silence 0.9", .. Script.Question(1002), "-> #1003 G1 X20", "<- ok"],
        async channel =>
        {
            await Send(channel, Move("X10"));
            await Send(channel, Move("X20"));
        });

    [Fact]
    public void A_cancelled_command_leaves_the_next_one_its_own_answer() => Play(
        [
            "-> #1001 G30 X1 Y1", "= silence 1.9", "-> #1002 M105", "~ 30", "<- Bed X: 1 Y: 1 Z: 0.1", "<- ok", "<- ok T:1 /0",
            "= silence 0.9", .. Script.Question(1003), "-> #1004 G30 X2 Y2", "<- Bed X: 2 Y: 2 Z: 0.2", "<- ok",
        ],
        async (channel, time) =>
        {
            using var stop = new CancellationTokenSource(TimeSpan.FromSeconds(1), time);
            await Assert.ThrowsAnyAsync<OperationCanceledException>(() => channel.SendAsync(Touch("X1 Y1"), stop.Token));
            Assert.Equal("Bed X: 2 Y: 2 Z: 0.2", Assert.Single((await Send(channel, Touch("X2 Y2"))).Replies));
        });

    private static Task<Exchange> Send(CommandChannel channel, Command command) => channel.SendAsync(command, CancellationToken.None);

    private static void Play(string[] script, Func<CommandChannel, Task> body) => Script.Run(true, script, (channel, _) => body(channel));

    private static void Play(string[] script, Func<CommandChannel, VirtualTime, Task> body) => Script.Run(true, script, body);
}
