using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>The readings of a capture while it grows: those that count, and those that their neighbours of the same place contradict.</summary>
internal sealed class GridTally
{
    private readonly List<Reading> _counting = [];
    private readonly List<Reading> _outliers = [];
    private readonly List<Reading> _references = [];

    /// <summary>Readings that count, in the order taken.</summary>
    public IReadOnlyList<Reading> Counting => _counting;

    /// <summary>Readings that others of the same place contradict; kept, not counted.</summary>
    public IReadOnlyList<Reading> Outliers => _outliers;

    /// <summary>Readings of the reference point; they count too.</summary>
    public IReadOnlyList<Reading> References => _references;

    /// <summary>Takes in a reading of the reference point.</summary>
    public void AddReference(Reading reading)
    {
        _references.Add(reading);
        _counting.Add(reading);
    }

    /// <summary>Takes in the readings of one place.</summary>
    public void AddPlace(IReadOnlyList<Reading> readings, double disagreementMm)
    {
        List<Reading> agreeing = readings.Count == 1 ? [.. readings] : Around(readings, disagreementMm);
        foreach (Reading reading in readings)
        {
            (agreeing.Contains(reading) || readings.Count(other => other.DatumEpoch == reading.DatumEpoch) == 1 ? _counting : _outliers).Add(reading);
        }
    }

    /// <summary>The readings of the newest epoch within a distance of their median: the largest company that agrees.</summary>
    public static List<Reading> Around(IReadOnlyList<Reading> readings, double disagreementMm)
    {
        List<Reading> same = [.. readings.Where(reading => reading.DatumEpoch == readings[^1].DatumEpoch)];
        return same
            .Select(centre => same.Where(reading => Math.Abs(reading.Z - centre.Z) <= disagreementMm).ToList())
            .OrderByDescending(company => company.Count)
            .First();
    }
}
