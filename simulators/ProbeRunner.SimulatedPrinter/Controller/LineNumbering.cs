using System.Globalization;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>Decides whether a line is taken: number and checksum right, and the number the next one.</summary>
internal sealed class LineNumbering(ControllerScenario controller)
{
    /// <summary>The number of the last line taken.</summary>
    public long Last { get; set; }

    /// <summary>Judges a line.</summary>
    /// <param name="line">As received.</param>
    /// <param name="command">Where the command lies in it, when it is taken.</param>
    public LineJudgement Judge(string line, out ReadOnlySpan<char> command)
    {
        command = line.AsSpan().Trim();
        if (!controller.Checksums)
        {
            command = WithoutComment(command);
            return LineJudgement.Taken;
        }

        var star = line.LastIndexOf('*');
        if (command.IsEmpty || command[0] is not ('N' or 'n'))
        {
            command = WithoutComment(command);
            if (star >= 0)
            {
                return controller.SpoiltNumberIsUnknownCommand ? LineJudgement.Unknown : LineJudgement.NoNumber;
            }

            return controller.Unnumbered || IsSetNumber(command) ? LineJudgement.Taken : LineJudgement.NoNumber;
        }

        if (star < 0)
        {
            return LineJudgement.NoChecksum;
        }

        return ChecksumHolds(line, star) && TryNumber(line.AsSpan(0, star), out var number, out command)
            ? JudgeNumber(number, command)
            : LineJudgement.BadChecksum;
    }

    private LineJudgement JudgeNumber(long number, ReadOnlySpan<char> command)
    {
        if (!IsSetNumber(command) && number != Last + 1)
        {
            return LineJudgement.WrongNumber;
        }

        Last = number;
        return LineJudgement.Taken;
    }

    private static bool ChecksumHolds(string line, int star)
    {
        var sum = 0;
        for (var at = 0; at < star; at++)
        {
            sum ^= line[at];
        }

        return int.TryParse(line.AsSpan(star + 1).TrimEnd(), NumberStyles.None, CultureInfo.InvariantCulture, out var stated)
            && stated == sum;
    }

    private static bool TryNumber(ReadOnlySpan<char> text, out long number, out ReadOnlySpan<char> command)
    {
        text = text.TrimStart()[1..];
        var digits = 0;
        while (digits < text.Length && char.IsAsciiDigit(text[digits]))
        {
            digits++;
        }

        command = WithoutComment(text[digits..]);
        return long.TryParse(text[..digits], NumberStyles.None, CultureInfo.InvariantCulture, out number);
    }

    private static bool IsSetNumber(ReadOnlySpan<char> command) =>
        command.StartsWith("M110", StringComparison.OrdinalIgnoreCase) && (command.Length == 4 || !char.IsAsciiDigit(command[4]));

    private static ReadOnlySpan<char> WithoutComment(ReadOnlySpan<char> text)
    {
        var comment = text.IndexOf(';');
        return (comment < 0 ? text : text[..comment]).Trim();
    }
}

/// <summary>What becomes of a line.</summary>
internal enum LineJudgement
{
    Taken,
    BadChecksum,
    NoChecksum,
    NoNumber,
    WrongNumber,
    Unknown,
}
