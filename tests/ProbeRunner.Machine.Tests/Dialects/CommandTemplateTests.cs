using System.Globalization;
using CsCheck;
using ProbeRunner.Machine.Dialects;

namespace ProbeRunner.Machine.Tests.Dialects;

public sealed class CommandTemplateTests
{
    [Theory]
    [InlineData("G1 X{x:3}\nM112")]
    [InlineData("G1 X{x}")]
    [InlineData("G1 X{x:9}")]
    [InlineData("G1 X{:3}")]
    [InlineData("G1 X{x:3")]
    [InlineData("G1 X}")]
    [InlineData("G1 X{x:-1}")]
    [InlineData("G28 ; home")]
    [InlineData("N5 G28*44")]
    [InlineData("G28é")]
    [InlineData("")]
    public void Anything_but_literal_words_and_numeric_parameters_is_refused(string text)
    {
        Assert.Null(CommandTemplate.TryParse(text, out string? wrong));
        Assert.NotEmpty(wrong!);
    }

    [Theory]
    [InlineData(1.23456, "G1 Z1.235")]
    [InlineData(-0.0001, "G1 Z0.000")]
    [InlineData(-2.5, "G1 Z-2.500")]
    [InlineData(1e6, "G1 Z1000000.000")]
    public void Numbers_are_plain_decimals_wherever_the_program_runs(double value, string line)
    {
        CommandTemplate template = CommandTemplate.TryParse("G1 Z{z:3}", out _)!;
        InCulture.Run("de-DE", () => Assert.Equal(line, template.Render([("z", value)])));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    [InlineData(1e30)]
    public void What_is_no_sensible_number_never_becomes_a_line(double value)
    {
        CommandTemplate template = CommandTemplate.TryParse("G1 Z{z:3}", out _)!;
        Assert.Throws<ArgumentException>(() => template.Render([("z", value)]));
        Assert.Throws<ArgumentException>(() => template.Render([("x", 1)]));
    }

    [Fact]
    public void Every_verb_with_any_finite_numbers_is_one_line_of_plain_letters_and_digits() =>
        Gen.Select(Gen.Enum<Verb>(), Gen.Double[-1e6, 1e6]).Sample((verb, value) =>
        {
            if (!Shipped.LineAck.Has(verb))
            {
                return;
            }

            (string, double)[] numbers = [.. VerbTable.Rules[verb].Parameters.Select(parameter => (parameter, value))];
            foreach (var command in Shipped.LineAck.Commands(verb, numbers))
            {
                Assert.All(command.Text, letter => Assert.True(char.IsAsciiLetterUpper(letter) || char.IsAsciiDigit(letter) || letter is ' ' or '.' or '-'));
            }
        }, iter: 2000);

    [Fact]
    public void A_rendered_number_reads_back_within_its_decimals() =>
        Gen.Select(Gen.Double[-1000, 1000], Gen.Int[0, 5]).Sample((value, decimals) =>
        {
            CommandTemplate template = CommandTemplate.TryParse(string.Create(CultureInfo.InvariantCulture, $"Z{{z:{decimals}}}"), out _)!;
            double back = double.Parse(template.Render([("z", value)])[1..], CultureInfo.InvariantCulture);
            Assert.True(Math.Abs(back - value) <= (0.5 * Math.Pow(10, -decimals)) + 1e-9);
        });
}
