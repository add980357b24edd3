using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace ProbeRunner.Machine.Dialects;

/// <summary>
/// One line of a command: literal text and numeric parameters, <c>{name:decimals}</c>, nothing else. What it renders can only differ
/// in its numbers, so no text from anywhere can reach the wire through it.
/// </summary>
internal sealed class CommandTemplate
{
    private const int MostDecimals = 5;

    private const int LongestLine = 90;

    private readonly ImmutableArray<Part> _parts;

    private CommandTemplate(string text, ImmutableArray<Part> parts)
    {
        Text = text;
        _parts = parts;
    }

    /// <summary>The template as written.</summary>
    public string Text { get; }

    /// <summary>The parameters in it.</summary>
    public IEnumerable<string> Parameters => _parts.Where(part => part.Parameter is not null).Select(part => part.Parameter!);

    /// <summary>Decimals a parameter is sent with; 0 when it is not in the template.</summary>
    public int DecimalsOf(string parameter) => _parts.FirstOrDefault(part => part.Parameter == parameter).Decimals;

    /// <summary>Parses a template.</summary>
    /// <param name="text">The template as written.</param>
    /// <param name="wrong">What is wrong with it; null when it is sound.</param>
    public static CommandTemplate? TryParse(string text, out string? wrong)
    {
        var parts = ImmutableArray.CreateBuilder<Part>();
        wrong = text.Length is 0 or > LongestLine ? FormattableString.Invariant($"a line has 1 to {LongestLine} characters") : null;
        int at = 0;
        while (wrong is null && at < text.Length)
        {
            int open = text.IndexOf('{', at);
            string literal = open < 0 ? text[at..] : text[at..open];
            wrong = WrongLiteral(literal);
            parts.Add(new Part(literal, null, 0));
            if (open < 0)
            {
                break;
            }

            int close = text.IndexOf('}', open);
            string inside = close < 0 ? string.Empty : text[(open + 1)..close];
            Part? parameter = Parameter(inside);
            wrong ??= parameter is null ? "a parameter is written {name:decimals}, with 0 to 5 decimals" : null;
            parts.Add(parameter ?? default);
            at = close + 1;
        }

        return wrong is null ? new CommandTemplate(text, parts.ToImmutable()) : null;
    }

    /// <summary>The line with its numbers: invariant, fixed decimals, never an exponent.</summary>
    /// <exception cref="ArgumentException">A number is missing, or not finite, or too large to be meant.</exception>
    public string Render(ReadOnlySpan<(string Name, double Value)> numbers)
    {
        if (_parts is [{ Parameter: null } only])
        {
            return only.Literal;
        }

        var line = new StringBuilder(Text.Length + 16);
        foreach (Part part in _parts)
        {
            if (part.Parameter is null)
            {
                line.Append(part.Literal);
            }
            else
            {
                line.Append(Shown(ValueOf(part.Parameter, numbers), part));
            }
        }

        return line.ToString();
    }

    private static double ValueOf(string parameter, ReadOnlySpan<(string Name, double Value)> numbers)
    {
        foreach ((string name, double value) in numbers)
        {
            if (name == parameter)
            {
                return value;
            }
        }

        throw new ArgumentException($"The command needs a number for {parameter}.", nameof(numbers));
    }

    private static string Shown(double value, Part part)
    {
        if (!double.IsFinite(value) || Math.Abs(value) > 1e7)
        {
            throw new ArgumentException($"The number for {part.Parameter} is not finite, or is too large to be meant; nothing was sent.");
        }

        string shown = value.ToString("F" + part.Decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return shown.StartsWith('-') && !shown.AsSpan().ContainsAnyInRange('1', '9') ? shown[1..] : shown;
    }

    private static string? WrongLiteral(string literal)
    {
        foreach (char letter in literal)
        {
            if (!char.IsAsciiLetterOrDigit(letter) && letter is not (' ' or '.' or '-' or '+' or '=' or '_' or ':' or ','))
            {
                return "a command is made of letters, digits, spaces and . - + = _ : , and of parameters {name:decimals}";
            }
        }

        return null;
    }

    private static Part? Parameter(string inside)
    {
        string[] halves = inside.Split(':');
        bool isSound = halves.Length == 2
            && halves[0].Length > 0
            && halves[0].All(char.IsAsciiLetterLower)
            && halves[1].Length == 1
            && char.IsAsciiDigit(halves[1][0])
            && halves[1][0] - '0' <= MostDecimals;
        return isSound ? new Part(string.Empty, halves[0], halves[1][0] - '0') : null;
    }

    private readonly record struct Part(string Literal, string? Parameter, int Decimals);
}
