using ProbeRunner.Metrology.LinearAlgebra;

namespace ProbeRunner.Metrology.Meshes;

/// <summary>
/// Minimises the largest absolute error of a bilinear mesh: the linear programme min t, -t &lt;= (B m - f)_i &lt;= t, by Mehrotra's predictor-corrector
/// interior-point method (SIAM Journal on Optimization 2, 1992). Each place depends on four nodes only, so that a step costs one small factorisation.
/// </summary>
internal sealed class MinimaxFit
{
    private const int MostSteps = 60;
    private const double GapWanted = 1e-7;

    private readonly Hat[] hats;
    private readonly double[] target;
    private readonly int nodes;

    /// <summary>Prepares the fit of <paramref name="nodes"/> heights to <paramref name="target"/>.</summary>
    public MinimaxFit(int nodes, Hat[] hats, double[] target) => (this.nodes, this.hats, this.target) = (nodes, hats, target);

    /// <summary>Improves on a start; gives the heights and a bound below which no mesh of this size can bring the largest error.</summary>
    public (double[] Heights, double LowerBound) Solve(double[] start)
    {
        int count = target.Length;
        double[] heights = [.. start], residual = Residual(heights);
        double largest = residual.Max(Math.Abs);
        if (!(largest > 0))
        {
            return (heights, 0);
        }

        // Slacks of r <= t and -r <= t and their multipliers.
        double t = 1.1 * largest;
        double[] above = new double[count], below = new double[count], up = new double[count], down = new double[count];
        Array.Fill(up, 0.5 / count);
        Array.Fill(down, 0.5 / count);
        double[] best = heights;
        double bestError = largest, bound = 0;
        for (int step = 0; step < MostSteps; step++)
        {
            residual = Residual(heights);
            double error = residual.Max(Math.Abs);
            if (error < bestError)
            {
                (best, bestError) = ([.. heights], error);
            }

            t = Math.Max(t, error * (1 + 1e-12));
            for (int i = 0; i < count; i++)
            {
                above[i] = Math.Max(t - residual[i], 1e-15 * t);
                below[i] = Math.Max(t + residual[i], 1e-15 * t);
            }

            bound = Math.Max(bound, DualValue(up, down));
            if (bestError - bound <= GapWanted * bestError)
            {
                break;
            }

            Newton(above, below, up, down, heights, ref t);
        }

        return (best, bound);
    }

    /// <summary>
    /// The dual's value at the multipliers after they are moved onto its equations as far as one projection does; 0 when they do not lie there.
    /// By duality sum (down - up) f with B-transposed (down - up) = 0 and sum (up + down) = 1 bounds every mesh's largest error from below.
    /// </summary>
    private double DualValue(double[] up, double[] down)
    {
        double sum = 0, value = 0;
        double[] balance = new double[nodes];
        for (int i = 0; i < target.Length; i++)
        {
            double difference = down[i] - up[i];
            sum += up[i] + down[i];
            value += difference * target[i];
            hats[i].AddTo(balance, difference);
        }

        double off = balance.Sum(Math.Abs) / sum;
        return off < 1e-9 ? Math.Max(0, value / sum) : 0;
    }

    private double[] Residual(double[] heights) => [.. hats.Select((hat, i) => hat.At(heights) - target[i])];

    /// <summary>One predictor-corrector step on the central path's equations.</summary>
    private void Newton(double[] above, double[] below, double[] up, double[] down, double[] heights, ref double t)
    {
        int count = target.Length;
        double gap = 0;
        for (int i = 0; i < count; i++)
        {
            gap += (above[i] * up[i]) + (below[i] * down[i]);
        }

        var system = new NormalEquations(nodes, hats, above, below, up, down);
        double[] noCross = new double[count];
        (double[] move, double moveT) = system.Solve(0, noCross, noCross);
        Steps affine = Steps.Along(hats, move, moveT, above, below, up, down, 0, noCross, noCross);
        (double primal, double dual) = affine.Longest(above, below, up, down);
        double after = affine.GapAfter(above, below, up, down, primal, dual);
        double centring = Math.Pow(after / gap, 3), mu = centring * gap / (2 * count);
        double[] crossUp = [.. affine.Above.Zip(affine.Up, (a, b) => a * b)], crossDown = [.. affine.Below.Zip(affine.Down, (a, b) => a * b)];
        (move, moveT) = system.Solve(mu, crossUp, crossDown);
        Steps step = Steps.Along(hats, move, moveT, above, below, up, down, mu, crossUp, crossDown);
        (primal, dual) = step.Longest(above, below, up, down);
        primal = Math.Min(1, 0.995 * primal);
        dual = Math.Min(1, 0.995 * dual);
        RowOperations.AddScaled(heights, move, primal);
        t += primal * moveT;
        RowOperations.AddScaled(up, step.Up, dual);
        RowOperations.AddScaled(down, step.Down, dual);
    }

    /// <summary>The reduced Newton equations: B-transposed D B bordered by t.</summary>
    private sealed class NormalEquations
    {
        private readonly Hat[] hats;
        private readonly double[] above;
        private readonly double[] below;
        private readonly double[] up;
        private readonly double[] down;
        private readonly double[] border;
        private readonly double corner;
        private readonly Cholesky matrix;
        private readonly double[] bordered;

        public NormalEquations(int nodes, Hat[] hats, double[] above, double[] below, double[] up, double[] down)
        {
            (this.hats, this.above, this.below, this.up, this.down) = (hats, above, below, up, down);
            double[][] lower = [.. Enumerable.Range(0, nodes).Select(k => new double[k + 1])];
            border = new double[nodes];
            double largest = 0;
            for (int i = 0; i < hats.Length; i++)
            {
                double a = up[i] / above[i], b = down[i] / below[i];
                hats[i].AddProducts(lower, a + b);
                hats[i].AddTo(border, b - a);
                corner += a + b;
                largest = Math.Max(largest, a + b);
            }

            for (int k = 0; k < nodes; k++)
            {
                lower[k][k] += (1e-14 * largest) + (1e-12 * lower[k][k]);
            }

            matrix = Cholesky.Factor(lower) ?? throw new InvalidOperationException("A sum of squares with a positive diagonal is positive definite.");
            bordered = [.. border];
            matrix.Solve(bordered);
        }

        public (double[] Move, double MoveT) Solve(double mu, double[] crossUp, double[] crossDown)
        {
            // Stationarity: sum of (down - up) hats = 0 and sum (up + down) = 1, with the multipliers' moves put in.
            double[] right = new double[border.Length];
            double rightT = 1;
            for (int i = 0; i < hats.Length; i++)
            {
                double newUp = (mu - crossUp[i]) / above[i], newDown = (mu - crossDown[i]) / below[i];
                hats[i].AddTo(right, newDown - newUp);
                rightT -= newUp + newDown;
            }

            matrix.Solve(right);
            double schur = corner - RowOperations.Dot(border, bordered);
            double moveT = -(rightT + RowOperations.Dot(border, right)) / Math.Max(schur, 1e-300);
            RowOperations.AddScaled(right, bordered, -moveT);
            return (right, moveT);
        }
    }

    /// <summary>The moves of slacks and multipliers.</summary>
    private sealed record Steps(double[] Above, double[] Below, double[] Up, double[] Down)
    {
        public static Steps Along(
            Hat[] hats, double[] move, double moveT, double[] above, double[] below, double[] up, double[] down, double mu, double[] crossUp, double[] crossDown)
        {
            int count = hats.Length;
            var steps = new Steps(new double[count], new double[count], new double[count], new double[count]);
            for (int i = 0; i < count; i++)
            {
                double residual = hats[i].At(move);
                steps.Above[i] = moveT - residual;
                steps.Below[i] = moveT + residual;
                steps.Up[i] = ((mu - crossUp[i] - (up[i] * steps.Above[i])) / above[i]) - up[i];
                steps.Down[i] = ((mu - crossDown[i] - (down[i] * steps.Below[i])) / below[i]) - down[i];
            }

            return steps;
        }

        public (double Primal, double Dual) Longest(double[] above, double[] below, double[] up, double[] down) =>
            (Math.Min(Longest(above, Above), Longest(below, Below)), Math.Min(Longest(up, Up), Longest(down, Down)));

        public double GapAfter(double[] above, double[] below, double[] up, double[] down, double primal, double dual)
        {
            double gap = 0;
            for (int i = 0; i < above.Length; i++)
            {
                gap += ((above[i] + (primal * Above[i])) * (up[i] + (dual * Up[i]))) + ((below[i] + (primal * Below[i])) * (down[i] + (dual * Down[i])));
            }

            return gap;
        }

        private static double Longest(double[] values, double[] moves)
        {
            double longest = 1;
            for (int i = 0; i < values.Length; i++)
            {
                longest = moves[i] < 0 ? Math.Min(longest, -values[i] / moves[i]) : longest;
            }

            return longest;
        }
    }
}
