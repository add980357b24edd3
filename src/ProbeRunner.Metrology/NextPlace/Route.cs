using System.Collections.Immutable;

namespace ProbeRunner.Metrology.NextPlace;

/// <summary>Orders places so that travel is short: nearest neighbour, then 2-opt (Croes, Operations Research 6, 1958).</summary>
public static class Route
{
    /// <summary>The places in a short order from where the probe is; the way back is not counted.</summary>
    public static ImmutableArray<Place> Shortest(Place from, IReadOnlyList<Place> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        List<Place> left = [.. places], route = [from];
        while (left.Count > 0)
        {
            Place nearest = left.MinBy(route[^1].DistanceTo);
            left.Remove(nearest);
            route.Add(nearest);
        }

        while (Improve(route))
        {
        }

        return [.. route.Skip(1)];
    }

    /// <summary>Length of a route, mm.</summary>
    public static double Length(Place from, IEnumerable<Place> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        double length = 0;
        foreach (Place place in places)
        {
            length += from.DistanceTo(place);
            from = place;
        }

        return length;
    }

    /// <summary>Reverses one stretch when that shortens the route; false when none does.</summary>
    private static bool Improve(List<Place> route)
    {
        for (int first = 1; first < route.Count - 1; first++)
        {
            for (int last = first + 1; last < route.Count; last++)
            {
                double before = route[first - 1].DistanceTo(route[first]), after = route[first - 1].DistanceTo(route[last]);
                if (last + 1 < route.Count)
                {
                    before += route[last].DistanceTo(route[last + 1]);
                    after += route[first].DistanceTo(route[last + 1]);
                }

                if (after < before - 1e-9)
                {
                    route.Reverse(first, last - first + 1);
                    return true;
                }
            }
        }

        return false;
    }
}
