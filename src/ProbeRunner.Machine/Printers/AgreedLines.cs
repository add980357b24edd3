using System.Collections.Immutable;

namespace ProbeRunner.Machine.Printers;

/// <summary>
/// Finds what several reports of the same thing agree on. Received lines carry no checksum, so a line is believed when two reports have it;
/// a remark in between, or a damaged line, is in one only.
/// </summary>
internal sealed class AgreedLines
{
    private readonly List<ImmutableArray<string>> _reports = [];
    private readonly Dictionary<(string Text, int Occurrence), (int Seen, int FirstIndex)> _lines = [];

    /// <summary>Whether two reports are the same, or the lines believed are as many as a usual report has.</summary>
    public bool AreSettled { get; private set; }

    /// <summary>The lines that two reports have, in order.</summary>
    public ImmutableArray<string> Believed =>
    [
        .. _lines.Where(line => line.Value.Seen > 1).OrderBy(line => line.Value.FirstIndex).Select(line => line.Key.Text),
    ];

    /// <summary>Takes another report.</summary>
    public void Add(ImmutableArray<string> report)
    {
        bool isSame = _reports.Any(earlier => earlier.SequenceEqual(report, StringComparer.Ordinal));
        _reports.Add(report);
        var occurrences = new Dictionary<string, int>(StringComparer.Ordinal);
        for (int index = 0; index < report.Length; index++)
        {
            int occurrence = occurrences.GetValueOrDefault(report[index]);
            occurrences[report[index]] = occurrence + 1;
            (int seen, int first) = _lines.GetValueOrDefault((report[index], occurrence), (0, index));
            _lines[(report[index], occurrence)] = (seen + 1, first);
        }

        int usual = _reports.Select(earlier => earlier.Length).Order().ElementAt(_reports.Count / 2);
        AreSettled = isSame || (_reports.Count > 1 && Believed.Length >= usual);
    }
}
