using System.Text;
using ProbeRunner.SimulatedPrinter.Chance;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>Turns the controller's lines to bytes, and loses, doubles, delays, splits or spoils some of them.</summary>
internal sealed class FaultyOutput(FaultPlan plan, bool carriageReturns)
{
    private static readonly TimeSpan BetweenPieces = TimeSpan.FromMilliseconds(7);
    private readonly Queue<(TimeSpan NotBefore, byte[] Bytes)> _waiting = new();
    private readonly string _lineEnd = carriageReturns ? "\r\n" : "\n";
    private TimeSpan _notBefore;
    private TimeSpan _silentUntil;
    private long _lines;

    /// <summary>Lines of a lost boot banner still to be lost.</summary>
    public int LinesToLose { get; set; }

    /// <summary>When the next bytes may go.</summary>
    public TimeSpan? NextDue => _waiting.TryPeek(out var head) ? head.NotBefore : null;

    public void Say(string line, TimeSpan now)
    {
        var ordinal = ++_lines;
        if (LinesToLose > 0)
        {
            LinesToLose--;
            return;
        }

        _silentUntil = ordinal == plan.SilentFromLine ? now + TimeSpan.FromSeconds(plan.SilentSeconds) : _silentUntil;
        if (now < _silentUntil || Happens(plan.LostFromController, ordinal, 1))
        {
            return;
        }

        var bytes = Encoding.Latin1.GetBytes(line + _lineEnd);
        BadByte.Strike(plan, NoiseKind.LineFromController, ordinal, plan.BadByteFromController, bytes);
        if (Happens(plan.LateFromController, ordinal, 2))
        {
            _notBefore = Later(_notBefore, now + TimeSpan.FromSeconds(plan.LateSeconds));
        }

        Put(bytes, ordinal, now);
        if (Happens(plan.DoubledFromController, ordinal, 3))
        {
            Put(bytes, ordinal, now);
        }
    }

    /// <summary>Takes what may go now.</summary>
    public bool TryTake(TimeSpan now, out byte[] bytes)
    {
        if (_waiting.TryPeek(out var head) && head.NotBefore <= now)
        {
            bytes = _waiting.Dequeue().Bytes;
            return true;
        }

        bytes = [];
        return false;
    }

    /// <summary>What had not gone is lost with the cable.</summary>
    public void Clear() => _waiting.Clear();

    private void Put(byte[] bytes, long ordinal, TimeSpan now)
    {
        _notBefore = Later(_notBefore, now);
        if (!Happens(plan.SplitFromController, ordinal, 4))
        {
            _waiting.Enqueue((_notBefore, bytes));
            return;
        }

        var at = 1 + (int)(KeyedNoise.Hash(plan.Seed, NoiseKind.LineFromController, (ordinal * 8) + 5) % (ulong)(bytes.Length - 1));
        _waiting.Enqueue((_notBefore, bytes[..at]));
        _notBefore += BetweenPieces;
        _waiting.Enqueue((_notBefore, bytes[at..]));
    }

    // Ordinals times eight keep the fates of one line apart from each other and from those of its neighbours.
    private bool Happens(double share, long ordinal, int fate) =>
        share > 0 && KeyedNoise.Uniform(plan.Seed + 1, NoiseKind.LineFromController, (ordinal * 8) + fate) < share;

    private static TimeSpan Later(TimeSpan one, TimeSpan other) => one > other ? one : other;
}
