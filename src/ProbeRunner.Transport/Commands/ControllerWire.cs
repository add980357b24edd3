using System.Runtime.CompilerServices;
using System.Text;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Transport.Commands;

/// <summary>
/// Lines to and from the controller: writes whole lines, reads and classifies what comes, turns what concerns no command into events,
/// and keeps the account of sent and acknowledged lines from which a disturbance is seen.
/// </summary>
internal sealed class ControllerWire : IAsyncDisposable
{
    private readonly ILink _link;
    private readonly ILineGrammar _grammar;
    private readonly TimeProvider _time;
    private readonly WireTrace _trace;
    private readonly Action<ChannelEvent> _raise;
    private readonly LineInbox _inbox;
    private readonly CancellationTokenSource _closing = new();
    private readonly CancellationTokenSource _writeDeadline = new();
    private readonly byte[] _outgoing = new byte[LineFramer.LongestLineBytes];
    private readonly List<HeardLine> _leftovers = [];
    private readonly Task _reading;
    private volatile bool _isDisturbed;
    private volatile bool _bannersExpected = true;
    private long _balance;
    private int _resetCount;

    public ControllerWire(
        ILink link, ILineGrammar grammar, TimeProvider time, ChannelTimes times, WireTrace trace, Action<ChannelEvent> raise)
    {
        _link = link;
        _grammar = grammar;
        _time = time;
        Times = times;
        _trace = trace;
        _raise = raise;
        _inbox = new LineInbox(time);
        _reading = ReadAsync();
    }

    public ChannelTimes Times { get; }

    public HealthCounts Counts { get; } = new();

    public int ResetCount => Volatile.Read(ref _resetCount);

    /// <summary>Whether something came that belongs to no command: the next command may be sent only after getting back in step.</summary>
    public bool IsDisturbed
    {
        get => _isDisturbed;
        set => _isDisturbed = value;
    }

    /// <summary>The clock's timestamp at which a wait that begins now ends.</summary>
    public long DueIn(TimeSpan within) => _time.GetTimestamp() + (long)(within.TotalSeconds * _time.TimestampFrequency);

    /// <summary>The clock's timestamp now.</summary>
    public long Now => _time.GetTimestamp();

    /// <summary>The time since a timestamp of the clock.</summary>
    public TimeSpan Since(long timestamp) => _time.GetElapsedTime(timestamp);

    /// <summary>Throws the standing failure, if there is one.</summary>
    public void ThrowIfFailed()
    {
        if (_inbox.Failure is { } failure)
        {
            throw failure;
        }
    }

    /// <summary>Begins a conversation: lines are kept for it.</summary>
    public void BeginConversation()
    {
        _balance = 0;
        _inbox.BeginListening();
    }

    /// <summary>Ends the conversation; lines it left, and an account that does not balance, are a disturbance.</summary>
    public void EndConversation()
    {
        _leftovers.Clear();
        _inbox.EndListening(_leftovers);
        foreach (HeardLine line in _leftovers)
        {
            HearIdle(line);
        }

        if (_balance != 0)
        {
            IsDisturbed = true;
        }
    }

    /// <summary>From now until <see cref="ExpectNoBanners"/> a controller that starts anew is no failure, and earlier resets and halts are forgotten.</summary>
    public void ExpectBanners()
    {
        _bannersExpected = true;
        _inbox.ClearFailure(isFinal: failure => failure is LinkLostException);
        IsDisturbed = false;
    }

    /// <summary>From now on a controller that starts anew is a failure.</summary>
    public void ExpectNoBanners() => _bannersExpected = false;

    /// <summary>The account starts at zero again: belated lines are known to be over.</summary>
    public void Balance() => _balance = 0;

    /// <summary>Writes a line. A device that does not take it within the deadline of a setting counts as silent.</summary>
    public async ValueTask WriteAsync(string line, Command command)
    {
        int count = Encoding.ASCII.GetBytes(line, _outgoing);
        _outgoing[count++] = (byte)'\n';
        _trace.Record(WireDirection.Sent, line);
        Interlocked.Increment(ref Counts.LinesSent);
        _balance++;
        ValueTask write = _link.WriteAsync(_outgoing.AsMemory(0, count), _writeDeadline.Token);
        if (!write.IsCompleted)
        {
            long began = Now;
            await using ITimer timer = _time.CreateTimer(
                static source => ((CancellationTokenSource)source!).Cancel(), _writeDeadline, Times.Setting, Timeout.InfiniteTimeSpan);
            try
            {
                await write;
                return;
            }
            catch (OperationCanceledException)
            {
                // Part of the line may be out. What follows would be glued to it, so nothing may follow.
                _inbox.Fail(new LinkLostException(_link.Name), replaces: _ => true);
                throw new LinkSilentException(Since(began), command.Text, command.Kind);
            }
        }

        await write;
    }

    /// <summary>Hands a line to the operating system past everything.</summary>
    public bool WriteUrgent(string line)
    {
        try
        {
            // The line end in front closes whatever line was being written.
            bool taken = _link.WriteUrgent(Encoding.ASCII.GetBytes("\n" + line + "\n"));
            IsDisturbed = true;
            _trace.Record(WireDirection.Sent, line);
            return taken;
        }
        catch (Exception failure) when (failure is not OutOfMemoryException)
        {
            return false;
        }
    }

    /// <summary>The next line for the conversation under way, or silence at <paramref name="due"/>.</summary>
    /// <exception cref="ControllerStartedException">The controller started anew while a session begins.</exception>
    [AsyncMethodBuilder(typeof(PoolingAsyncValueTaskMethodBuilder<>))]
    public async ValueTask<HeardLine> HearAsync(long due, CancellationToken cancel)
    {
        HeardLine heard = await _inbox.NextAsync(due, cancel);
        if (heard.IsSilence)
        {
            return heard;
        }

        switch (heard.Meaning.Kind)
        {
            case LineKind.Acknowledge:
                _balance--;
                break;
            case LineKind.ResetBanner:
                throw new ControllerStartedException();
        }

        return heard;
    }

    /// <summary>Waits until nothing has come for the quiet time; keep-alives and endless talk prolong it up to a bound.</summary>
    public async ValueTask HearQuietAsync(CancellationToken cancel)
    {
        long latest = DueIn(Times.LongMotion);
        long due = DueIn(Times.Quiet);
        while (Now < latest)
        {
            HeardLine heard = await HearAsync(Math.Min(due, latest), cancel);
            if (heard.IsSilence)
            {
                return;
            }

            switch (heard.Meaning.Kind)
            {
                case LineKind.TemperatureReport or LineKind.Idle:
                    break;
                case LineKind.Busy:
                    due = DueIn(Times.AfterBusy);
                    break;
                default:
                    HearStray(heard);
                    due = DueIn(Times.Quiet);
                    break;
            }
        }
    }

    /// <summary>Waits for the acknowledgement that completes a refusal; some controllers leave it out.</summary>
    public async ValueTask HearRefusalEndAsync(CancellationToken cancel)
    {
        long due = DueIn(Times.Quiet);
        while (true)
        {
            HeardLine heard = await HearAsync(due, cancel);
            if (heard.IsSilence)
            {
                Balance();
                return;
            }

            if (heard.Meaning.Kind == LineKind.Acknowledge)
            {
                return;
            }
        }
    }

    /// <summary>Notes a line that belongs to no command.</summary>
    public void HearStray(HeardLine line)
    {
        if (line.Meaning.Kind is LineKind.Acknowledge or LineKind.Resend)
        {
            Interlocked.Increment(ref Counts.StrayLines);
        }

        _raise(new ChannelEvent.UnsolicitedLine(line.Text!));
    }

    /// <summary>Takes the controller as having started anew: a standing failure until a new session begins.</summary>
    /// <param name="line">The line that shows it.</param>
    public void DeclareReset(string line)
    {
        if (_bannersExpected)
        {
            return;
        }

        if (_inbox.Fail(new ControllerResetException(line, null), replaces: standing => standing is ControllerHaltedException))
        {
            _raise(new ChannelEvent.ControllerReset(Interlocked.Increment(ref _resetCount), line));
        }
    }

    /// <summary>Takes the controller as halted.</summary>
    /// <param name="line">The line that says so; null when this side sent the halt.</param>
    public void DeclareHalted(string? line)
    {
        if (_inbox.Fail(new ControllerHaltedException(line), replaces: standing => standing is ControllerResetException))
        {
            _raise(new ChannelEvent.Halted(line ?? string.Empty));
        }
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        _closing.Cancel(); // CancelAsync would leave for the thread pool, behind the back of a virtual clock.
        _inbox.Fail(new LinkLostException(_link.Name), replaces: _ => false);
        await _link.DisposeAsync();
        await _reading;
        _inbox.Dispose();
        _closing.Dispose();
        _writeDeadline.Dispose();
    }

    private async Task ReadAsync()
    {
        var framer = new LineFramer();
        var texts = new List<string>();
        var batch = new List<HeardLine>();
        byte[] buffer = new byte[4096];
        try
        {
            while (true)
            {
                int count = await _link.ReadAsync(buffer, _closing.Token);
                if (framer.Push(buffer.AsSpan(0, count), texts) is > 0 and long discarded)
                {
                    Interlocked.Increment(ref Counts.DiscardedLines);
                    _trace.Record(WireDirection.Note, "a received line was too long and was thrown away");
                    _raise(new ChannelEvent.LineDiscarded(discarded));
                }

                HandOn(texts, batch);
                texts.Clear();
            }
        }
        catch (OperationCanceledException) when (_closing.IsCancellationRequested)
        {
        }
        catch (Exception failure)
        {
            LinkLostException lost = failure as LinkLostException ?? new LinkLostException(_link.Name, failure);
            if (_inbox.Fail(lost, replaces: standing => standing is not LinkLostException))
            {
                _trace.Record(WireDirection.Note, "the link is lost");
                _raise(new ChannelEvent.LinkLost(lost));
            }
        }
    }

    private void HandOn(List<string> texts, List<HeardLine> batch)
    {
        foreach (string text in texts)
        {
            _trace.Record(WireDirection.Received, text);
            var heard = new HeardLine(text, _grammar.Classify(text));
            if (IsEndOfAll(heard))
            {
                // What came before the reset is still heard before it.
                Post(batch);
                if (heard.Meaning.Kind == LineKind.Halted)
                {
                    DeclareHalted(text);
                }
                else
                {
                    DeclareReset(text);
                }
            }
            else
            {
                batch.Add(heard);
            }
        }

        Post(batch);
    }

    private bool IsEndOfAll(HeardLine heard)
        => heard.Meaning.Kind == LineKind.Halted || (heard.Meaning.Kind == LineKind.ResetBanner && !_bannersExpected);

    private void Post(List<HeardLine> batch)
    {
        foreach (HeardLine heard in batch)
        {
            switch (heard.Meaning.Kind)
            {
                case LineKind.TemperatureReport:
                    _raise(new ChannelEvent.TemperatureReported(heard.Text!));
                    break;
                case LineKind.Busy:
                    _raise(new ChannelEvent.Busy(heard.Text!));
                    break;
                case LineKind.Error:
                    Interlocked.Increment(ref Counts.Errors);
                    break;
            }
        }

        if (batch.Count > 0 && !_inbox.Post(batch))
        {
            foreach (HeardLine heard in batch)
            {
                HearIdle(heard);
            }
        }

        batch.Clear();
    }

    private void HearIdle(HeardLine heard)
    {
        switch (heard.Meaning.Kind)
        {
            case LineKind.TemperatureReport or LineKind.Busy or LineKind.Idle:
                break;
            case LineKind.ResetBanner:
                DeclareReset(heard.Text!);
                break;
            case LineKind.Other:
                HearStray(heard);
                break;
            default:
                IsDisturbed = true;
                HearStray(heard);
                break;
        }
    }
}
