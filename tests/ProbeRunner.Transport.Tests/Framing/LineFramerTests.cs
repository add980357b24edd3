using System.Text;
using CsCheck;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Transport.Tests.Framing;

public class LineFramerTests
{
    [Fact]
    public void Any_split_of_the_bytes_gives_the_same_lines()
    {
        Gen<byte> wild = Gen.Frequency((6, Gen.Char[" okN1:"].Select(letter => (byte)letter)), (2, Gen.OneOfConst((byte)'\n', (byte)'\r', (byte)0)), (1, Gen.Byte));
        Gen.Select(wild.Array[0, 400], Gen.Int[1, 40].Array[1, 20]).Sample((bytes, pieces) =>
        {
            (List<string> whole, long discarded) = Lines(bytes, [bytes.Length + 1]);
            (List<string> split, long discardedWhenSplit) = Lines(bytes, pieces);
            Assert.Equal(whole, split);
            Assert.Equal(discarded, discardedWhenSplit);
        });
    }

    [Theory]
    [InlineData("ok\nT:1\n", new[] { "ok", "T:1" })]
    [InlineData("ok\r\nT:1\r\n", new[] { "ok", "T:1" })]
    [InlineData("\n\r\n\nok\n", new[] { "ok" })]
    [InlineData("ok", new string[0])]
    [InlineData("a\rb\n", new[] { "a\rb" })]
    [InlineData("\0ok\0\n", new[] { "\0ok\0" })]
    public void Lines_end_with_a_line_feed_whatever_stands_before_it(string bytes, string[] expected)
        => Assert.Equal(expected, Lines(Encoding.UTF8.GetBytes(bytes), [3]).Lines);

    [Fact]
    public void Bytes_that_are_not_text_are_shown_as_replacements()
        => Assert.Equal(["a\uFFFDb"], Lines([(byte)'a', 0xFF, (byte)'b', (byte)'\n'], [1]).Lines);

    [Fact]
    public void The_longest_line_is_kept_and_a_longer_one_is_counted_and_thrown_away()
    {
        byte[] longest = [.. Enumerable.Repeat((byte)'x', 4096), (byte)'\n'];
        byte[] longer = [.. Enumerable.Repeat((byte)'y', 1 << 20), (byte)'\n', (byte)'o', (byte)'k', (byte)'\n'];
        Assert.Equal(4096, Assert.Single(Lines(longest, [1000]).Lines).Length);
        (List<string> lines, long discarded) = Lines(longer, [1000]);
        Assert.Equal(["ok"], lines);
        Assert.Equal(1 << 20, discarded);
    }

    [Theory]
    [InlineData("N3 G28", 0x4E ^ 0x33 ^ 0x20 ^ 0x47 ^ 0x32 ^ 0x38)]
    [InlineData("", 0)]
    public void The_checksum_is_the_exclusive_or_of_the_bytes(string text, int expected) => Assert.Equal(expected, LineChecksum.Of(text));

    [Fact]
    public void Every_single_damaged_byte_changes_the_checksum()
        => Gen.Select(Gen.Char[' ', '~'].Array[1, 60], Gen.Int[0, 59], Gen.Int[1, 127]).Sample((letters, place, flip) =>
        {
            string text = new(letters);
            letters[place % letters.Length] = (char)(letters[place % letters.Length] ^ flip);
            Assert.NotEqual(LineChecksum.Of(text), LineChecksum.Of(new string(letters)));
        });

    [Theory]
    [InlineData("ok T:21.4", "ok T:21.4")]
    [InlineData("a\u001b[2Jb", "a\\u{1B}[2Jb")]
    [InlineData("a\u202Eb", "a\\u{202E}b")]
    [InlineData("\0\r\n\u0085\u2028", "\\u{00}\\u{0D}\\u{0A}\\u{85}\\u{2028}")]
    [InlineData("21 °C – größer 温度", "21 °C – größer 温度")]
    public void Nothing_that_acts_on_a_terminal_is_shown_raw(string raw, string shown) => Assert.Equal(shown, WireText.Printable(raw));

    [Fact]
    public void Half_a_character_is_shown_as_an_escape() => Assert.Equal("\\u{D800}x", WireText.Printable("\uD800x"));

    internal static int XorOf(string text) => text.Aggregate(0, (sum, letter) => sum ^ letter);

    private static (List<string> Lines, long Discarded) Lines(byte[] bytes, int[] pieces)
    {
        var framer = new LineFramer();
        var lines = new List<string>();
        long discarded = 0;
        for ((int at, int turn) = (0, 0); at < bytes.Length; turn++)
        {
            int length = Math.Min(pieces[turn % pieces.Length], bytes.Length - at);
            discarded += framer.Push(bytes.AsSpan(at, length), lines);
            at += length;
        }

        return (lines, discarded);
    }
}
