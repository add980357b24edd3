using System.Text;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Bytes to lines. CR and LF both end a line, empty lines are nothing, and what is too long for the controller's buffer is lost.</summary>
internal sealed class LineAssembler
{
    private const int LongestLine = 256;
    private readonly byte[] _bytes = new byte[LongestLine];
    private int _count;

    /// <summary>Takes a byte.</summary>
    /// <returns>The line that it ends, or null.</returns>
    public string? Take(byte value)
    {
        if (value is (byte)'\n' or (byte)'\r')
        {
            var line = _count == 0 ? null : Encoding.Latin1.GetString(_bytes, 0, _count);
            _count = 0;
            return line;
        }

        if (_count < LongestLine)
        {
            _bytes[_count++] = value;
        }

        return null;
    }

    public void Clear() => _count = 0;
}
