using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Gaps;

/// <summary>What the first layer will see over the bed.</summary>
/// <param name="Places">The gap at each place, in the order asked.</param>
public sealed record GapMap(IReadOnlyList<GapAssessment> Places)
{
    /// <summary>The place where the gap is least probably within the adhesion window.</summary>
    public GapAssessment Worst => Places.MinBy(place => place.InsideWindow.Inside)!;

    /// <summary>Part of the places, 0 to 1, at which the gap is within the window with at least the given probability.</summary>
    public double PartInside(double probability) =>
        (double)Places.Count(place => place.InsideWindow.Inside >= probability) / Places.Count;

    /// <summary>Assesses places; refused when there are none or when one has no answer.</summary>
    /// <param name="model">Of the gap.</param>
    /// <param name="places">Bed coordinates, mm.</param>
    public static Answer<GapMap> Of(GapModel model, IReadOnlyList<(double XMm, double YMm)> places)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(places);
        if (places.Count == 0)
        {
            return Reason.TooFew("A map of the gap", 1, 0);
        }

        var assessed = new List<GapAssessment>(places.Count);
        foreach ((double x, double y) in places)
        {
            Answer<GapAssessment> gap = model.At(x, y);
            if (gap.Refusal is { } wrong)
            {
                return wrong;
            }

            assessed.Add(gap.Value);
        }

        return new GapMap(assessed);
    }
}
