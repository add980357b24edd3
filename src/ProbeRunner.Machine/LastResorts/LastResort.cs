using System.Text;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Machine.LastResorts;

/// <summary>
/// Switches both heaters off and reads that back, over a bare link and without any session: whoever had one may have died in the middle
/// of a line. Everything is sent plain, without numbers; nothing is moved. The words are the dialect's.
/// </summary>
/// <param name="link">The link; nobody else reads it any more.</param>
/// <param name="dialect">What the controller understands.</param>
/// <param name="time">The clock of the waits.</param>
public sealed class LastResort(ILink link, Dialect dialect, TimeProvider time)
{
    /// <summary>How long a controller may be busy with what was under way; its longest command and a margin.</summary>
    public static readonly TimeSpan UsualPatience = TimeSpan.FromMinutes(3);

    private static readonly TimeSpan Settling = TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan FirstWait = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(8);
    private const int LinesThrownAway = 1000;
    private const int ReportsThatConfirm = 2;

    private readonly ReplyReader _reader = new(dialect);
    private readonly LineEar _ear = new(link, time);
    private Temperatures? _last;

    /// <summary>Sends at once, then asks until the controller has said twice that both heaters are off.</summary>
    /// <param name="patience">How long to go on.</param>
    public async Task<LastResortReport> RunAsync(TimeSpan patience)
    {
        bool sent = false;
        try
        {
            await SendAsync(Off());
            sent = true;
            await ForgetWhatWasSaidAsync();
            return new LastResortReport(Sent: true, await ConfirmAsync(patience), _last);
        }
        catch (Exception failure) when (failure is LinkLostException or OperationCanceledException)
        {
            return new LastResortReport(sent, ConfirmedOff: false, _last);
        }
    }

    private async Task<bool> ConfirmAsync(TimeSpan patience)
    {
        long began = time.GetTimestamp();
        TimeSpan wait = FirstWait;
        int confirmed = 0;
        while (time.GetElapsedTime(began) < patience)
        {
            await SendAsync([dialect.Question]);
            if (await ReportAsync(wait) is not { } report)
            {
                // Busy, or the line was lost. Few lines, farther and farther apart: a busy controller's buffer is small.
                wait = wait * 2 < LongestWait ? wait * 2 : LongestWait;
                await SendAsync(Off());
                continue;
            }

            _last = report;
            confirmed = report.HeatersOff ? confirmed + 1 : 0;
            if (confirmed == ReportsThatConfirm)
            {
                return true;
            }

            if (!report.HeatersOff)
            {
                await SendAsync(Off());
                wait = FirstWait;
            }
        }

        return false;
    }

    /// <summary>What was on its way before may tell of the time before the heaters were on.</summary>
    private async Task ForgetWhatWasSaidAsync()
    {
        for (int line = 0; line < LinesThrownAway && await _ear.NextAsync(Settling) is not null; line++)
        {
        }
    }

    private async Task<Temperatures?> ReportAsync(TimeSpan within)
    {
        long began = time.GetTimestamp();
        while (within - time.GetElapsedTime(began) is { Ticks: > 0 } left)
        {
            if (await _ear.NextAsync(left) is not { } line)
            {
                return null;
            }

            if (_reader.Temperatures([line]) is { } found)
            {
                return new Temperatures(found.Nozzle, found.NozzleTarget, found.Bed, found.BedTarget, time.GetUtcNow());
            }
        }

        return null;
    }

    private IEnumerable<Command> Off() =>
        [.. dialect.Commands(Verb.NozzleTarget, ("celsius", 0)), .. dialect.Commands(Verb.BedTarget, ("celsius", 0))];

    /// <summary>An empty line first: it ends whatever was left unfinished.</summary>
    private async Task SendAsync(IEnumerable<Command> commands)
    {
        using var deadline = new CancellationTokenSource(LongestWait, time);
        await link.WriteAsync(Encoding.ASCII.GetBytes($"\n{string.Join('\n', commands.Select(command => command.Text))}\n"), deadline.Token);
    }
}
