using System.Globalization;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>A command taken apart: its code (a letter and a number, as in RS274/NGC) and its words, each a letter with or without a number.</summary>
internal sealed class CommandWords
{
    private const int Letters = 26;
    private readonly double[] _values = new double[Letters];
    private uint _present;
    private uint _numbers;

    /// <summary>The command's letter.</summary>
    public char Letter { get; private set; }

    /// <summary>The command's number.</summary>
    public int Number { get; private set; }

    public bool Has(char letter) => (_present & Bit(letter)) != 0;

    public bool TryGet(char letter, out double value)
    {
        value = _values[letter - 'A'];
        return (_numbers & Bit(letter)) != 0;
    }

    public double? Get(char letter) => TryGet(letter, out var value) ? value : null;

    /// <summary>Takes a command apart.</summary>
    /// <param name="text">The command, without line number, checksum and comment.</param>
    /// <returns>False when it is not made of words.</returns>
    public bool TryParse(ReadOnlySpan<char> text)
    {
        (_present, _numbers, Letter) = (0, 0, '\0');
        for (var at = 0; at < text.Length;)
        {
            if (char.IsWhiteSpace(text[at]))
            {
                at++;
                continue;
            }

            var letter = char.ToUpperInvariant(text[at++]);
            if (letter is < 'A' or > 'Z')
            {
                return false;
            }

            var start = at;
            while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] is '.' or '-' or '+'))
            {
                at++;
            }

            if (!Add(letter, text[start..at]))
            {
                return false;
            }
        }

        return Letter != '\0';
    }

    private bool Add(char letter, ReadOnlySpan<char> digits)
    {
        if (Letter == '\0')
        {
            Letter = letter;
            var isNumber = int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number);
            Number = number;
            return isNumber;
        }

        _present |= Bit(letter);
        if (digits.IsEmpty)
        {
            return true;
        }

        const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        _numbers |= Bit(letter);
        return double.TryParse(digits, Style, CultureInfo.InvariantCulture, out _values[letter - 'A']);
    }

    private static uint Bit(char letter) => 1u << (letter - 'A');
}
