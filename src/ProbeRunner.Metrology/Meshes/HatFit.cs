namespace ProbeRunner.Metrology.Meshes;

/// <summary>Least squares by a broken line with its corners at evenly spaced nodes: the fit along one axis of a bilinear mesh.</summary>
internal sealed class HatFit
{
    /// <summary>Pull towards a straight line, so small that it decides only nodes that no place depends on.</summary>
    private const double Stiffness = 1e-10;

    private readonly (int First, double Share)[] places;
    private readonly double[][] factor;

    /// <summary>Prepares the fit for places given by their cell and their share of it.</summary>
    public HatFit(int nodes, (int First, double Share)[] places)
    {
        this.places = places;
        double[][] normal = [.. Enumerable.Range(0, nodes).Select(_ => new double[nodes])];
        foreach ((int first, double share) in places)
        {
            normal[first][first] += (1 - share) * (1 - share);
            normal[first + 1][first] += share * (1 - share);
            normal[first + 1][first + 1] += share * share;
        }

        double pull = Stiffness * places.Length / nodes;
        for (int k = 1; k + 1 < nodes; k++)
        {
            ReadOnlySpan<double> second = [1, -2, 1];
            for (int i = 0; i < 3; i++)
            {
                for (int j = 0; j <= i; j++)
                {
                    normal[k - 1 + i][k - 1 + j] += pull * second[i] * second[j];
                }
            }
        }

        for (int i = 0; i < nodes; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = normal[i][j];
                for (int k = 0; k < j; k++)
                {
                    sum -= normal[i][k] * normal[j][k];
                }

                normal[i][j] = i == j ? Math.Sqrt(Math.Max(sum, double.Epsilon)) : sum / normal[j][j];
            }
        }

        factor = normal;
    }

    /// <summary>Node heights for the heights at the places.</summary>
    public double[] Solve(ReadOnlySpan<double> heights)
    {
        double[] right = new double[factor.Length];
        for (int p = 0; p < places.Length; p++)
        {
            (int first, double share) = places[p];
            right[first] += (1 - share) * heights[p];
            right[first + 1] += share * heights[p];
        }

        for (int i = 0; i < right.Length; i++)
        {
            for (int k = 0; k < i; k++)
            {
                right[i] -= factor[i][k] * right[k];
            }

            right[i] /= factor[i][i];
        }

        for (int i = right.Length - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < right.Length; k++)
            {
                right[i] -= factor[k][i] * right[k];
            }

            right[i] /= factor[i][i];
        }

        return right;
    }
}
