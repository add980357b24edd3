using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;

namespace ProbeRunner.Machine.Dialects;

/// <summary>The patterns of one reply; the first that matches counts. Matching takes time linear in the line, whatever the pattern.</summary>
internal sealed class ReplyPattern(ImmutableArray<Regex> patterns)
{
    /// <summary>Lines longer than this are no reply of any kind.</summary>
    private const int LongestLine = 1024;

    /// <summary>A reply no line matches.</summary>
    public static ReplyPattern None { get; } = new([]);

    /// <summary>Whether there is any pattern.</summary>
    public bool IsKnown => !patterns.IsEmpty;

    /// <summary>Compiles one pattern; null, with what is wrong, when it is no pattern or would need backtracking.</summary>
    public static Regex? TryCompile(string pattern, out string? wrong)
    {
        try
        {
            wrong = null;
            return new Regex(pattern, RegexOptions.NonBacktracking | RegexOptions.CultureInvariant | RegexOptions.IgnoreCase);
        }
        catch (Exception refused) when (refused is ArgumentException or NotSupportedException)
        {
            wrong = refused.Message;
            return null;
        }
    }

    /// <summary>Whether the line is this reply.</summary>
    public bool Matches(string line) => Match(line) is not null;

    /// <summary>The first match; null when the line is not this reply.</summary>
    public Match? Match(string line)
    {
        if (line.Length > LongestLine)
        {
            return null;
        }

        foreach (Regex pattern in patterns)
        {
            Match match = pattern.Match(line);
            if (match.Success)
            {
                return match;
            }
        }

        return null;
    }

    /// <summary>All matches of the first pattern that has one.</summary>
    public IEnumerable<Match> MatchAll(string line)
    {
        Regex? found = line.Length > LongestLine ? null : patterns.FirstOrDefault(pattern => pattern.IsMatch(line));
        return found is null ? [] : found.Matches(line);
    }

    /// <summary>A group as a number; null when it is missing or not a plain finite decimal number.</summary>
    public static double? Number(Match match, string group) => Number(match.Groups[group].Value);

    /// <summary>A plain decimal number; null for anything else, exponents, infinities and commas included.</summary>
    public static double? Number(string text) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value)
        && double.IsFinite(value)
            ? value
            : null;
}
