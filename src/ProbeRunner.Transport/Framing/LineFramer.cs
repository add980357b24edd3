using System.Text;

namespace ProbeRunner.Transport.Framing;

/// <summary>
/// Cuts a stream of bytes into lines, however the stream is split. A line ends with a line feed; carriage returns before it go with it;
/// empty lines are left out. Bytes that are not UTF-8 become the replacement character, everything else stays as it came.
/// Memory is bounded: of a line that is too long only its length is kept.
/// </summary>
/// <param name="longestLineBytes">The longest line that is handed on, 16 to 1,048,576 bytes.</param>
internal sealed class LineFramer(int longestLineBytes = LineFramer.LongestLineBytes)
{
    /// <summary>The usual bound on a line, in bytes.</summary>
    public const int LongestLineBytes = 4096;

    private readonly byte[] _partial = new byte[Checked(longestLineBytes)];
    private readonly RecentTexts _texts = new();
    private int _partialCount;
    private long _skipped;

    /// <summary>Takes the next bytes and adds every line that they complete.</summary>
    /// <param name="bytes">Any piece of the stream.</param>
    /// <param name="lines">Where whole lines go, in order.</param>
    /// <returns>Bytes of lines that were too long and ended here, 0 for none; they were thrown away.</returns>
    public long Push(ReadOnlySpan<byte> bytes, List<string> lines)
    {
        long discarded = 0;
        while (true)
        {
            int end = bytes.IndexOf((byte)'\n');
            Keep(end < 0 ? bytes : bytes[..end]);
            if (end < 0)
            {
                return discarded;
            }

            discarded += EndLine(lines);
            bytes = bytes[(end + 1)..];
        }
    }

    private static int Checked(int longest)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longest, 16);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(longest, 1 << 20);
        return longest;
    }

    private void Keep(ReadOnlySpan<byte> piece)
    {
        if (_skipped > 0 || piece.Length > _partial.Length - _partialCount)
        {
            _skipped += _partialCount + piece.Length;
            _partialCount = 0;
            return;
        }

        piece.CopyTo(_partial.AsSpan(_partialCount));
        _partialCount += piece.Length;
    }

    private long EndLine(List<string> lines)
    {
        ReadOnlySpan<byte> line = _partial.AsSpan(0, _partialCount).TrimEnd((byte)'\r');
        if (_skipped == 0 && line.Length > 0)
        {
            lines.Add(_texts.Of(line));
        }

        long skipped = _skipped;
        _skipped = 0;
        _partialCount = 0;
        return skipped;
    }

    /// <summary>Gives the same string for the same short line again: most lines of a session are one of a few.</summary>
    private sealed class RecentTexts
    {
        private const int LongestRemembered = 24;

        private readonly string?[] _texts = new string?[32];
        private readonly byte[][] _bytes = new byte[32][];

        public string Of(ReadOnlySpan<byte> line)
        {
            if (line.Length > LongestRemembered)
            {
                return Encoding.UTF8.GetString(line);
            }

            int place = (line.Length + (line[0] * 7) + (line[^1] * 13)) % _texts.Length;
            if (_texts[place] is string known && line.SequenceEqual(_bytes[place]))
            {
                return known;
            }

            string text = Encoding.UTF8.GetString(line);
            _bytes[place] = line.ToArray();
            _texts[place] = text;
            return text;
        }
    }
}
