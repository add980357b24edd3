using System.Globalization;
using System.Text;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>
/// A conversation written down: <c>-> text</c> is a line that the channel must send next (<c>-> #12 text</c>: numbered and sealed),
/// <c>&lt;- text</c> a line that comes back, <c>~ 2.5</c> seconds that pass, <c>= silence 5</c> that nothing is sent for so long,
/// <c>= pull</c> the cable pulled.
/// Everything left over at the end fails, on either side.
/// </summary>
internal sealed class Script
{
    /// <summary>How a numbered session begins: number set, a question answered, a wrong checksum refused.</summary>
    public static readonly string[] NumberedStart =
    [
        "-> #999 M110 N999", "<- ok",
        "-> #1000 M105", "<- ok T:21.4 /0.0 B:21.0 /0.0",
        "-> " + Wrong(1001, "M105"), "<- Error: checksum mismatch", "<- Resend: 1001", "<- ok",
    ];

    public static readonly string[] PlainStart = ["-> M105", "<- ok T:21.4 /0.0"];

    /// <summary>How the channel gets back in step: the question, numbered.</summary>
    public static string[] Question(int number) => [$"-> #{number} M105", "<- ok T:21.4 /0.0"];

    public static void Run(bool numbered, string[] script, Func<CommandChannel, VirtualTime, Task> body, ChannelOptions? options = null)
    {
        string[] whole = [.. numbered ? NumberedStart : PlainStart, .. script];
        RunRaw(numbered, whole, async (channel, time) =>
        {
            await channel.BeginSessionAsync(CancellationToken.None);
            await body(channel, time);
        }, options);
    }

    public static void RunRaw(bool numbered, string[] script, Func<CommandChannel, VirtualTime, Task> body, ChannelOptions? options = null)
    {
        VirtualTime.Run(async time =>
        {
            (DuplexLink host, DuplexLink controller) = DuplexLink.CreatePair("script");
            Task playing = PlayAsync(controller, script, time);
            var channel = new CommandChannel(host, WireGrammar.Instance, time, (options ?? ChannelOptions.Default) with { Numbered = numbered });
            Exception? failure = await Record.ExceptionAsync(() => body(channel, time));
            if (failure is not null)
            {
                // A script that went wrong explains more than what came of it.
                await Task.Delay(TimeSpan.FromSeconds(1), time);
                if (playing.IsFaulted)
                {
                    await playing;
                }

                throw failure;
            }

            // Gives whatever should not be sent any more the time to be seen.
            await Task.Delay(TimeSpan.FromSeconds(300), time);
            await channel.DisposeAsync();
            await playing;
            Assert.Equal(0, time.ForeignPosts);
        });
    }

    public static string Sealed(int number, string command)
    {
        string numbered = string.Create(CultureInfo.InvariantCulture, $"N{number} {command}");
        return string.Create(CultureInfo.InvariantCulture, $"{numbered}*{LineChecksum.Of(numbered)}");
    }

    private static string Wrong(int number, string command)
    {
        string numbered = string.Create(CultureInfo.InvariantCulture, $"N{number} {command}");
        return string.Create(CultureInfo.InvariantCulture, $"{numbered}*{LineChecksum.Of(numbered) ^ 0x40}");
    }

    private static async Task PlayAsync(DuplexLink controller, string[] script, VirtualTime time)
    {
        var lines = new LineSource(controller);
        foreach (string step in script)
        {
            string text = step.Length > 3 ? step[3..] : string.Empty;
            switch (step.Split(' ')[0])
            {
                case "->":
                    Assert.Equal(Expand(text), await lines.NextAsync(CancellationToken.None));
                    break;
                case "<-":
                    await controller.WriteAsync(Encoding.UTF8.GetBytes(text + "\n"), CancellationToken.None);
                    break;
                case "~":
                    await Task.Delay(TimeSpan.FromSeconds(double.Parse(step[2..], CultureInfo.InvariantCulture)), time);
                    break;
                case "=" when text.StartsWith("ilence", StringComparison.Ordinal) || step.StartsWith("= silence", StringComparison.Ordinal):
                    await lines.ExpectSilenceAsync(TimeSpan.FromSeconds(double.Parse(step.Split(' ')[2], CultureInfo.InvariantCulture)), time);
                    break;
                case "=":
                    controller.Close();
                    return;
                default:
                    throw new FormatException($"Not a step of a script: {step}");
            }
        }

        Assert.Null(await lines.NextOrEndAsync());
    }

    private static string Expand(string text)
    {
        if (!text.StartsWith('#'))
        {
            return text;
        }

        string[] parts = text[1..].Split(' ', 2);
        return Sealed(int.Parse(parts[0], CultureInfo.InvariantCulture), parts[1]);
    }
}
