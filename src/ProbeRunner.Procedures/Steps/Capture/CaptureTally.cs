using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Series;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>
/// A capture while it grows. The touches of a place become one reading for each datum epoch, so that what is held in memory grows with places,
/// not with touches; every single touch is in the journal.
/// </summary>
internal sealed class CaptureTally(CaptureRule rule)
{
    /// <summary>Rejected touches that are kept for showing; more only count.</summary>
    private const int MostOutliersKept = 500;

    private readonly List<Reading> _counting = [];
    private readonly List<Reading> _outliers = [];
    private double _squaresWithin;

    /// <summary>Readings that count, one for each place, epoch and visit, in the order taken.</summary>
    public IReadOnlyList<Reading> Counting => _counting;

    /// <summary>The first touches that others of the same place contradict; not counted.</summary>
    public IReadOnlyList<Reading> Outliers => _outliers;

    /// <summary>All touches.</summary>
    public int Touches { get; private set; }

    /// <summary>Touches that others of the same place contradict.</summary>
    public int OutlierCount { get; private set; }

    /// <summary>Degrees of freedom of <see cref="SigmaWithinMm"/>.</summary>
    public int FreedomWithin { get; private set; }

    /// <summary>Standard deviation of a touch, pooled over all places, mm; 0 when no place was touched twice.</summary>
    public double SigmaWithinMm => FreedomWithin > 0 ? Math.Sqrt(_squaresWithin / FreedomWithin) : 0;

    /// <summary>Takes in the touches of one visit to a place, in the order taken.</summary>
    public void Add(IReadOnlyList<Reading> touches)
    {
        Touches += touches.Count;
        foreach (IGrouping<int, Reading> epoch in touches.GroupBy(reading => reading.DatumEpoch))
        {
            Reading[] same = [.. epoch];
            CombinedTouches combined = Combine(same);
            _squaresWithin += combined.SumOfSquares;
            FreedomWithin += combined.Kept.Length - 1;
            Reading middle = same[combined.Kept[combined.Kept.Length / 2]];
            bool contradicted = combined.Kept.Length < same.Length;
            _counting.Add(middle with { Z = combined.Height, Suspect = contradicted || same.Any(reading => reading.Suspect) });
            Reject([.. same.Where((_, index) => !combined.Kept.Contains(index))]);
        }
    }

    /// <summary>Whether the touches so far of one visit leave it open what the height is.</summary>
    public bool LeavesOpen(IReadOnlyList<Reading> touches)
    {
        Reading[] same = [.. touches.Where(reading => reading.DatumEpoch == touches[^1].DatumEpoch)];
        return !Combine(same).Settled;
    }

    private CombinedTouches Combine(Reading[] touches) => RepeatedTouches.Combine([.. touches.Select(reading => reading.Z)], rule.DisagreementMm, rule.Combine).Value;

    private void Reject(Reading[] rejected)
    {
        OutlierCount += rejected.Length;
        _outliers.AddRange(rejected.Take(MostOutliersKept - _outliers.Count));
    }
}
