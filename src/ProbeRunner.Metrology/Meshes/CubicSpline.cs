using System.Collections.Immutable;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>An interpolating cubic spline, kept as heights and second derivatives at the nodes (de Boor, chapter IV).</summary>
internal sealed class CubicSpline
{
    private readonly ImmutableArray<double> nodes;
    private readonly double[] heights;
    private readonly double[] curvatures;

    public CubicSpline(ImmutableArray<double> nodes, ReadOnlySpan<double> heights, SplineEnds ends)
    {
        this.nodes = nodes;
        this.heights = heights.ToArray();
        curvatures = Curvatures(ends);
    }

    public double At(double position)
    {
        int after = nodes.BinarySearch(position);
        int first = Math.Clamp((after >= 0 ? after : ~after) - 1, 0, nodes.Length - 2);
        double step = nodes[first + 1] - nodes[first];
        double toNext = (nodes[first + 1] - position) / step, fromFirst = (position - nodes[first]) / step;
        return (toNext * heights[first]) + (fromFirst * heights[first + 1])
            + (step * step / 6 * ((((toNext * toNext * toNext) - toNext) * curvatures[first])
                + (((fromFirst * fromFirst * fromFirst) - fromFirst) * curvatures[first + 1])));
    }

    /// <summary>Solves the tridiagonal equations of continuous slope, the end conditions put into their first and last rows.</summary>
    private double[] Curvatures(SplineEnds ends)
    {
        int last = nodes.Length - 1;
        double[] before = new double[last + 1], diagonal = new double[last + 1], after = new double[last + 1], right = new double[last + 1];
        for (int i = 1; i < last; i++)
        {
            double left = nodes[i] - nodes[i - 1], next = nodes[i + 1] - nodes[i];
            (before[i], diagonal[i], after[i]) = (left / 6, (left + next) / 3, next / 6);
            right[i] = ((heights[i + 1] - heights[i]) / next) - ((heights[i] - heights[i - 1]) / left);
        }

        double firstRatio = 0, lastRatio = 0;
        if (ends == SplineEnds.NotAKnot)
        {
            // The third derivative is continuous at the second node: m0 = (1 + r) m1 - r m2 with r the ratio of the first two steps.
            firstRatio = (nodes[1] - nodes[0]) / (nodes[2] - nodes[1]);
            lastRatio = (nodes[last] - nodes[last - 1]) / (nodes[last - 1] - nodes[last - 2]);
            diagonal[1] += before[1] * (1 + firstRatio);
            after[1] -= before[1] * firstRatio;
            diagonal[last - 1] += after[last - 1] * (1 + lastRatio);
            before[last - 1] -= after[last - 1] * lastRatio;
        }

        double[] solution = new double[last + 1];
        for (int i = 2; i < last; i++)
        {
            double factor = before[i] / diagonal[i - 1];
            diagonal[i] -= factor * after[i - 1];
            right[i] -= factor * right[i - 1];
        }

        for (int i = last - 1; i >= 1; i--)
        {
            solution[i] = (right[i] - (i < last - 1 ? after[i] * solution[i + 1] : 0)) / diagonal[i];
        }

        if (ends == SplineEnds.NotAKnot)
        {
            solution[0] = ((1 + firstRatio) * solution[1]) - (firstRatio * solution[2]);
            solution[last] = ((1 + lastRatio) * solution[last - 1]) - (lastRatio * solution[last - 2]);
        }

        return solution;
    }
}
