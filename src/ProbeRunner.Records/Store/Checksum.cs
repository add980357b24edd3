using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using ProbeRunner.Procedures.Journal;

namespace ProbeRunner.Records.Store;

/// <summary>
/// The chain: every row's checksum is SHA-256 (FIPS 180-4) over the checksum before it and the row's own content, each field with its
/// length in front, so that no two different rows give the same bytes. It shows damage; it is no signature against a forger.
/// </summary>
internal static class Checksum
{
    /// <summary>The first link: over the run's header.</summary>
    public static byte[] OfHeader(string header) => Of([], [header]);

    /// <summary>Over a row and the checksum before it.</summary>
    public static byte[] OfEntry(ReadOnlySpan<byte> before, JournalEntry entry)
    {
        Span<byte> numbers = stackalloc byte[sizeof(long) + sizeof(long) + sizeof(int)];
        BinaryPrimitives.WriteInt64LittleEndian(numbers, entry.Ordinal);
        BinaryPrimitives.WriteInt64LittleEndian(numbers[sizeof(long)..], entry.At.Ticks);
        BinaryPrimitives.WriteInt32LittleEndian(numbers[(2 * sizeof(long))..], entry.StepIndex);
        return Of([.. before, .. numbers], [entry.Kind.ToString(), entry.Section, entry.Request, entry.Reply]);
    }

    private static byte[] Of(ReadOnlySpan<byte> before, ReadOnlySpan<string> fields)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(before);
        Span<byte> length = stackalloc byte[sizeof(int)];
        foreach (string field in fields)
        {
            byte[] content = Encoding.UTF8.GetBytes(field);
            BinaryPrimitives.WriteInt32LittleEndian(length, content.Length);
            hash.AppendData(length);
            hash.AppendData(content);
        }

        return hash.GetHashAndReset();
    }
}
