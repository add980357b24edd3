using System.Globalization;
using System.Text.RegularExpressions;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>The trade's usual wording, by shape, for tests.</summary>
internal sealed partial class WireGrammar : ILineGrammar
{
    public static WireGrammar Instance { get; } = new();

    public string HaltLine => "M112";

    public Command Question { get; } = new("M105", CommandKind.Query) { Answer = line => Temperature().IsMatch(line) };

    public static Command Position { get; } = new("M114", CommandKind.Query) { Answer = line => line.Contains("X:", StringComparison.Ordinal) };

    public static Command Touch(string place) => new($"G30 {place}", CommandKind.LongMotion)
    {
        Answer = line => line.Contains("Z:", StringComparison.Ordinal) || line.Contains("fail", StringComparison.OrdinalIgnoreCase),
    };

    public static Command Move(string where) => new($"G1 {where}", CommandKind.Motion);

    public ClassifiedLine Classify(string line)
    {
        if (Ok().Match(line) is { Success: true } ok)
        {
            return new ClassifiedLine(LineKind.Acknowledge, NumberIn(ok));
        }

        if (Resend().Match(line) is { Success: true } resend)
        {
            return new ClassifiedLine(LineKind.Resend, NumberIn(resend));
        }

        return new ClassifiedLine(line switch
        {
            "start" => LineKind.ResetBanner,
            "wait" => LineKind.Idle,
            _ when line.Contains("busy:", StringComparison.OrdinalIgnoreCase) => LineKind.Busy,
            _ when line.Contains("unknown command", StringComparison.OrdinalIgnoreCase) => LineKind.UnknownCommand,
            _ when line.Contains("halt", StringComparison.OrdinalIgnoreCase) => LineKind.Halted,
            _ when line.StartsWith("error", StringComparison.OrdinalIgnoreCase) => LineKind.Error,
            _ when Temperature().IsMatch(line) => LineKind.TemperatureReport,
            _ => LineKind.Other,
        });
    }

    public string Number(string command, int number) => string.Create(CultureInfo.InvariantCulture, $"N{number} {command}");

    public string Seal(string numbered, int checksum) => string.Create(CultureInfo.InvariantCulture, $"{numbered}*{checksum}");

    public string SetLineNumber(int number) => string.Create(CultureInfo.InvariantCulture, $"M110 N{number}");

    private static int? NumberIn(Match match) => match.Groups["line"] is { Success: true } group
        && int.TryParse(group.ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;

    [GeneratedRegex(@"^\s*ok\b(?:\s+N(?<line>\d+))?", RegexOptions.IgnoreCase | RegexOptions.NonBacktracking)]
    private static partial Regex Ok();

    [GeneratedRegex(@"^\s*(?:resend|rs)\s*:?\s*N?(?<line>\d+)\s*$", RegexOptions.IgnoreCase | RegexOptions.NonBacktracking)]
    private static partial Regex Resend();

    [GeneratedRegex(@"\bT\d?:\s*-?\d", RegexOptions.NonBacktracking)]
    private static partial Regex Temperature();
}
