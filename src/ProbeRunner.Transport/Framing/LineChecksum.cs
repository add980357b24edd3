namespace ProbeRunner.Transport.Framing;

/// <summary>The checksum of numbered lines.</summary>
public static class LineChecksum
{
    /// <summary>
    /// XOR of all characters' codes, 0 to 255. Finds every single damaged byte; can't find two bytes that changed places.
    /// Source: common practice of the trade, no standard.
    /// </summary>
    /// <param name="text">ASCII text: a character beyond it would not be one byte on the wire.</param>
    /// <exception cref="ArgumentException">The text holds a character beyond ASCII.</exception>
    public static int Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        int sum = 0;
        foreach (char letter in text)
        {
            if (!char.IsAscii(letter))
            {
                throw new ArgumentException("A line with a checksum holds ASCII characters only.", nameof(text));
            }

            sum ^= letter;
        }

        return sum;
    }
}
