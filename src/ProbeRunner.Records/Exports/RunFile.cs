using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Records.Exports;

/// <summary>
/// A whole run as one text file, <c>run.jsonl</c>, that can be read back into a store: a line of JSON for the header, one for each row, one with their number,
/// each with the checksum that chains it to the line before, as in the store.
/// </summary>
public static class RunFile
{
    /// <summary>Its name in an export's folder.</summary>
    public const string Name = "run.jsonl";

    private const string Format = "proberunner-run";
    private const int Version = 1;
    private const long LongestFile = 1L << 30;

    /// <summary>The run as text.</summary>
    public static string Write(RunRecord run)
    {
        ArgumentNullException.ThrowIfNull(run);
        byte[] checksum = Checksum.OfHeader(JournalJson.Write(run.Header));
        var text = new StringBuilder();
        text.Append(JournalJson.Write(new HeaderLine(Format, Version, run.Header, Convert.ToHexStringLower(checksum)))).Append('\n');
        foreach (JournalEntry entry in run.Entries)
        {
            checksum = Checksum.OfEntry(checksum, entry);
            text.Append(JournalJson.Write(new EntryLine(entry, Convert.ToHexStringLower(checksum)))).Append('\n');
        }

        return text.Append(JournalJson.Write(new EndLine(run.Entries.Length))).Append('\n').ToString();
    }

    /// <summary>Reads a run back.</summary>
    /// <param name="path">The file, or the folder that an export wrote it into.</param>
    /// <exception cref="StoreUnusableException">It can't be read, is no such file, or is not what was written.</exception>
    public static (RunHeader Header, ImmutableArray<JournalEntry> Entries) Read(string path)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        string file = Directory.Exists(path) ? Path.Combine(path, Name) : path;
        try
        {
            if (new FileInfo(file) is { Exists: true, Length: > LongestFile })
            {
                throw new StoreUnusableException($"{file} is too long to be a run's file. Nothing was imported.");
            }

            return Parse(File.ReadLines(file, new UTF8Encoding(false, throwOnInvalidBytes: true)), file);
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            throw new StoreUnusableException($"{file} can't be read: {refused.Message} Nothing was imported. Name the file {Name} of an export, or the folder it lies in.", refused);
        }
    }

    private static (RunHeader Header, ImmutableArray<JournalEntry> Entries) Parse(IEnumerable<string> lines, string file)
    {
        int number = 0;
        try
        {
            RunHeader? header = null;
            byte[] checksum = [];
            int? rows = null;
            var entries = ImmutableArray.CreateBuilder<JournalEntry>();
            foreach (string line in lines)
            {
                number++;
                if (header is null)
                {
                    HeaderLine first = JournalJson.Read<HeaderLine>(line);
                    Require(first is { Format: Format, Version: Version, Header: not null }, file, number, "it is not a run's file of this version");
                    header = first.Header;
                    checksum = Checksum.OfHeader(JournalJson.Write(header));
                    Require(first.Checksum == Convert.ToHexStringLower(checksum), file, number, "the header is not what was written");
                }
                else if (line.StartsWith("{\"rows\"", StringComparison.Ordinal))
                {
                    rows = JournalJson.Read<EndLine>(line).Rows;
                }
                else
                {
                    EntryLine next = JournalJson.Read<EntryLine>(line);
                    Require(rows is null && next.Entry is { Section: not null, Request: not null, Reply: not null }, file, number, "a row stands where none belongs");
                    checksum = Checksum.OfEntry(checksum, next.Entry);
                    Require(
                        next.Entry.Ordinal == entries.Count + 1 && next.Checksum == Convert.ToHexStringLower(checksum), file, number, "the row is not what was written");
                    entries.Add(next.Entry);
                }
            }

            Require(header is not null && rows == entries.Count, file, number, "lines are missing at its end");
            Require(RunId.IsValid(header!.RunId), file, 1, "the run's name is none");
            return (header, entries.ToImmutable());
        }
        catch (Exception damage) when (damage is JsonException or DecoderFallbackException or NotSupportedException or ArgumentException or FormatException)
        {
            throw Damaged(file, number, "the line can't be read");
        }
    }

    private static void Require(bool holds, string file, int line, string what)
    {
        if (!holds)
        {
            throw Damaged(file, line, what);
        }
    }

    private static StoreUnusableException Damaged(string file, int line, string what) => new(FormattableString.Invariant(
        $"{file} is damaged or no run's file: line {line}, {what}. Nothing was imported. Export the run again from the store it came from."));

    private sealed record HeaderLine(string Format, int Version, RunHeader Header, string Checksum);

    private sealed record EntryLine(JournalEntry Entry, string Checksum);

    private sealed record EndLine(int Rows);
}
