using System.Collections.Immutable;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Screws;

/// <summary>From a fitted plane to turns of three or four adjusting screws (height = pitch times turns).</summary>
public static class ScrewLevelling
{
    /// <summary>The smallest turn that a hand does reliably.</summary>
    public const double EighthTurn = 0.125;

    private const int ShiftsTried = 48;

    /// <summary>
    /// Plans the turns. Without a fixed screw the bed keeps its mean height over the screws, up to a common shift of less than one rounding step
    /// where that leaves less tilt.
    /// </summary>
    /// <param name="plane">The plane fitted to the readings.</param>
    /// <param name="screws">Three or four screws, not on one line.</param>
    /// <param name="fixedScrew">Index of a screw that must not be turned; null when all may be.</param>
    /// <param name="smallestTurn">Step to which turns are rounded, more than 0 to 1; an eighth of a turn unless said otherwise.</param>
    public static Answer<ScrewPlan> Plan(Plane plane, IReadOnlyList<AdjustingScrew> screws, int? fixedScrew = null, double smallestTurn = EighthTurn)
    {
        ArgumentNullException.ThrowIfNull(screws);
        if (Check(screws) is { } why)
        {
            return why;
        }

        if (!(double.IsFinite(plane.A) && double.IsFinite(plane.B) && double.IsFinite(plane.C)))
        {
            return new Reason(RefusalKind.NotFinite, "The plane's coefficients must be finite.");
        }

        if (fixedScrew is { } index && (index < 0 || index >= screws.Count))
        {
            return Reason.OutOfRange("The fixed screw is not one of the screws.");
        }

        if (smallestTurn is not (> 0 and <= 1))
        {
            return Reason.OutOfRange("The smallest turn must be more than 0 and at most 1.");
        }

        double[] heights = [.. screws.Select(screw => plane.HeightAt(screw.X, screw.Y))];
        double level = fixedScrew is { } kept ? heights[kept] : heights.Average();
        double[] exact = [.. screws.Select((screw, i) => screw.TurnsFor(level - heights[i]))];
        double[] rounded = Round(screws, heights, level, fixedScrew, smallestTurn);
        double[] after = [.. screws.Select((screw, i) => heights[i] + screw.RiseMm(rounded[i]))];
        double mean = after.Average();
        return new ScrewPlan(
            [.. screws.Select((screw, i) => new ScrewTurn(screw, heights[i], exact[i], rounded[i], after[i] - mean))],
            after.Max() - after.Min());
    }

    /// <summary>
    /// Standard uncertainty of the bed's height at each screw, against the mean of all screws, when it is read off the least-squares plane through
    /// touches elsewhere: each touch's own uncertainty carried through the plane, which is linear in them (law of propagation, GUM 5.1.2).
    /// </summary>
    /// <param name="screws">The screws.</param>
    /// <param name="touched">Where the bed was touched: three places or more, not on one line.</param>
    /// <param name="sigmaMm">Standard uncertainty of the height at each such place, mm, all alike and independent.</param>
    public static ImmutableArray<double> Uncertainties(IReadOnlyList<AdjustingScrew> screws, IReadOnlyList<AdjustingScrew> touched, double sigmaMm)
    {
        ArgumentNullException.ThrowIfNull(screws);
        ArgumentNullException.ThrowIfNull(touched);
        double[] squares = new double[screws.Count];
        for (int raised = 0; raised < touched.Count; raised++)
        {
            SurfacePoint[] points = [.. touched.Select((place, index) => new SurfacePoint(place.X, place.Y, index == raised ? 1 : 0))];
            Plane plane = PlaneFit.LeastSquares(points).Value.Plane;
            double[] heights = [.. screws.Select(screw => plane.HeightAt(screw.X, screw.Y))];
            double mean = heights.Average();
            for (int screw = 0; screw < squares.Length; screw++)
            {
                squares[screw] += (heights[screw] - mean) * (heights[screw] - mean);
            }
        }

        return [.. squares.Select(square => sigmaMm * Math.Sqrt(square))];
    }

    /// <summary>
    /// What four screws cannot level: by how much they stand alternately above and below the plane through them, mm, positive where the
    /// first screw stands above. Turning them against each other would bend the plate, not tilt it. Zero for three screws.
    /// </summary>
    /// <param name="screws">Four screws (or three), not on one line.</param>
    /// <param name="heights">Height of the bed at each screw, mm.</param>
    public static Answer<double> Twist(IReadOnlyList<AdjustingScrew> screws, IReadOnlyList<double> heights)
    {
        ArgumentNullException.ThrowIfNull(screws);
        ArgumentNullException.ThrowIfNull(heights);
        if (Check(screws) is { } why)
        {
            return why;
        }

        if (heights.Count != screws.Count)
        {
            return Reason.OutOfRange("There must be one height for each screw.");
        }

        if (Finite.Check(heights, screws.Count, "A twist") is { } bad)
        {
            return bad;
        }

        return PlaneFit.LeastSquares([.. screws.Select((screw, i) => new SurfacePoint(screw.X, screw.Y, heights[i]))])
            .Then<double>(fit => fit.Residuals[0]);
    }

    private static Reason? Check(IReadOnlyList<AdjustingScrew> screws)
    {
        if (screws.Count is not (3 or 4))
        {
            return Reason.OutOfRange("Levelling is planned for three or four screws.");
        }

        if (screws.Any(screw => !(screw.PitchMm > 0) || !double.IsFinite(screw.PitchMm)))
        {
            return Reason.OutOfRange("A screw's pitch must be greater than zero.");
        }

        return Places.Check([.. screws.Select(screw => new SurfacePoint(screw.X, screw.Y, 0))], 3, "Levelling");
    }

    /// <summary>Rounds towards a level shifted by parts of a step, and keeps the shift that leaves the screws nearest to each other.</summary>
    private static double[] Round(IReadOnlyList<AdjustingScrew> screws, double[] heights, double level, int? fixedScrew, double smallestTurn)
    {
        double step = screws.Max(screw => screw.PitchMm) * smallestTurn, least = double.PositiveInfinity;
        double[] best = [];
        for (int k = 0; k < (fixedScrew is null ? ShiftsTried : 1); k++)
        {
            // 0, then ever farther to either side: of equal ones the smallest shift is kept.
            double shift = (k % 2 == 0 ? k : -(k + 1)) * step / 2 / ShiftsTried;
            double[] turns =
            [
                .. screws.Select((screw, i) => i == fixedScrew
                    ? 0
                    : (Math.Round(screw.TurnsFor(level + shift - heights[i]) / smallestTurn) * smallestTurn) + 0.0),
            ];
            double[] after = [.. screws.Select((screw, i) => heights[i] + screw.RiseMm(turns[i]))];
            double range = after.Max() - after.Min();
            if (range < least - 1e-12)
            {
                (best, least) = (turns, range);
            }
        }

        return best;
    }
}
