using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>
/// A small controller that checks numbers and checksums: it keeps a position, answers questions, touches, and knows nothing else.
/// A line whose number's letter is damaged it takes as an unnumbered, unknown command and acknowledges, as real ones do.
/// </summary>
internal sealed partial class TinyController(ILink link, TimeProvider time)
{
    private int _last;

    /// <summary>Every command carried out that changes something, in order.</summary>
    public List<string> CarriedOut { get; } = [];

    /// <summary>Answers with a number in the acknowledgement.</summary>
    public bool NumbersAcknowledgements { get; init; }

    /// <summary>Every acknowledgement is sent twice when the function says so for its ordinal.</summary>
    public Func<int, bool> Doubles { get; init; } = _ => false;

    /// <summary>Damages what is sent back: the line's ordinal and its bytes.</summary>
    public Action<int, byte[]> Damage { get; init; } = (_, _) => { };

    /// <summary>Ends when the halt line was taken.</summary>
    public TaskCompletionSource Halted { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private int _sent;
    private int _acknowledged;
    private string _place = "X:0.00 Y:0.00 Z:0.00";

    public async Task RunAsync()
    {
        var framer = new LineFramer();
        byte[] buffer = new byte[1024];
        var lines = new List<string>();
        try
        {
            while (true)
            {
                int count = await link.ReadAsync(buffer, CancellationToken.None);
                framer.Push(buffer.AsSpan(0, count), lines);
                foreach (string line in lines)
                {
                    await TakeAsync(line);
                }

                lines.Clear();
            }
        }
        catch (LinkLostException)
        {
        }
    }

    private async Task TakeAsync(string line)
    {
        if (Numbered().Match(line) is not { Success: true } parts)
        {
            if (line.StartsWith('N'))
            {
                await RefuseAsync("no line number or checksum");
                return;
            }

            await CarryOutAsync(line.Split(';', '*')[0].Trim(), null);
            return;
        }

        string covered = parts.Groups["covered"].Value;
        if (covered.Any(letter => letter > 127)
            || LineChecksum.Of(covered) != int.Parse(parts.Groups["sum"].ValueSpan, CultureInfo.InvariantCulture))
        {
            await RefuseAsync("checksum mismatch");
            return;
        }

        int number = int.Parse(parts.Groups["number"].ValueSpan, CultureInfo.InvariantCulture);
        string command = parts.Groups["command"].Value;
        if (number != _last + 1 && !command.StartsWith("M110", StringComparison.Ordinal))
        {
            await RefuseAsync("line number is not last line number + 1");
            return;
        }

        _last = number;
        await CarryOutAsync(command, number);
    }

    private async Task CarryOutAsync(string command, int? number)
    {
        switch (command.Split(' ')[0])
        {
            case "":
                break;
            case "M110" when command.Length > 6 && int.TryParse(command.AsSpan(6), NumberStyles.None, CultureInfo.InvariantCulture, out int last):
                _last = last;
                break;
            case "M105":
                await AcknowledgeAsync(number, " T:21.4 /0.0");
                return;
            case "M114":
                await SayAsync(_place);
                break;
            case "G1":
                CarriedOut.Add(command);
                _place = command[3..];
                break;
            case "M400":
                await Task.Delay(TimeSpan.FromSeconds(4), time);
                CarriedOut.Add(command);
                break;
            case "M112":
                Halted.TrySetResult();
                return;
            case "G30":
                await Task.Delay(TimeSpan.FromSeconds(1.5), time);
                await SayAsync("busy: processing");
                await Task.Delay(TimeSpan.FromSeconds(1.5), time);
                CarriedOut.Add(command);
                await SayAsync($"Bed {command[4..]} Z: 0.1");
                break;
            default:
                await SayAsync($"echo:Unknown command: \"{command}\"");
                break;
        }

        await AcknowledgeAsync(number, string.Empty);
    }

    private async Task RefuseAsync(string reason)
    {
        await SayAsync($"Error:{reason}, Last Line: {_last}");
        await SayAsync($"Resend: {_last + 1}");
        await AcknowledgeAsync(null, string.Empty);
    }

    private async Task AcknowledgeAsync(int? number, string tail)
    {
        string ok = NumbersAcknowledgements && number is int n ? $"ok N{n}{tail}" : $"ok{tail}";
        await SayAsync(ok);
        if (Doubles(_acknowledged++))
        {
            await SayAsync(ok);
        }
    }

    private async Task SayAsync(string line)
    {
        byte[] bytes = Encoding.ASCII.GetBytes(line + "\n");
        Damage(_sent++, bytes);
        await link.WriteAsync(bytes, CancellationToken.None);
    }

    [GeneratedRegex(@"^(?<covered>N(?<number>\d{1,9}) (?<command>[^*]*))\*(?<sum>\d{1,3})$", RegexOptions.NonBacktracking)]
    private static partial Regex Numbered();
}
