using System.Text;

namespace ProbeRunner.Machine.Toml;

/// <summary>Reads a text file that a person edits, or says in a sentence why it can't be read.</summary>
public static class TextFile
{
    /// <summary>The whole text, without a byte order mark.</summary>
    /// <param name="path">Where it is.</param>
    /// <param name="largestBytes">Larger files are refused.</param>
    /// <exception cref="FileFaultException">It is missing, unreadable, too large or not UTF-8.</exception>
    public static string Read(string path, long largestBytes)
    {
        ArgumentNullException.ThrowIfNull(path);
        try
        {
            var strict = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
            return BytesOf(path, largestBytes) is { } bytes
                ? strict.GetString(bytes).TrimStart('\uFEFF')
                : throw Refused(path, "the file is too large", FormattableString.Invariant($"at most {largestBytes >> 20} MiB is accepted"));
        }
        catch (Exception missing) when (missing is FileNotFoundException or DirectoryNotFoundException)
        {
            throw Refused(path, "there is no such file", "give the path of an existing file");
        }
        catch (DecoderFallbackException)
        {
            throw Refused(path, "the file is not UTF-8 text", "save it as UTF-8");
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw Refused(path, $"the file cannot be read: {Printable.Text(unreadable.Message)}", "check its permissions");
        }
    }

    // Counted while reading: a pipe or a device states no length.
    private static byte[]? BytesOf(string path, long most)
    {
        using FileStream file = File.OpenRead(path);
        using var kept = new MemoryStream();
        var piece = new byte[1 << 16];
        while (file.Read(piece) is > 0 and int count)
        {
            kept.Write(piece, 0, count);
            if (kept.Length > most)
            {
                return null;
            }
        }

        return kept.ToArray();
    }

    private static FileFaultException Refused(string path, string wrong, string accepted) =>
        new([new FileFault(FilePosition.Whole(Printable.Text(path)), wrong, accepted)]);
}
