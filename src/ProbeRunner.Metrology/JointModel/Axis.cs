using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>One axis of a full grid under one length: the eigenvalues and eigenvectors of its correlation matrix, and the axis' trend functions 1, w, w^2 - 1/3 in their coordinates.</summary>
internal sealed class Axis
{
    private readonly double length;
    private readonly double[] places;

    public Axis(double[] places, double[] scaled, double length)
    {
        this.places = places;
        this.length = length;
        Evd<double> decomposition = Matrix<double>.Build
            .Dense(places.Length, places.Length, (i, j) => Matern52.At(Math.Abs(places[i] - places[j]), length))
            .Evd(Symmetricity.Symmetric);
        Values = [.. decomposition.EigenValues.Select(value => Math.Max(0, value.Real))];
        Vectors = decomposition.EigenVectors.ToColumnArrays();
        Trend =
        [
            InEigenvectors([.. scaled.Select(_ => 1.0)]), InEigenvectors(scaled), InEigenvectors([.. scaled.Select(w => (w * w) - (1.0 / 3))]),
        ];
    }

    public double[] Values { get; }

    /// <summary>One eigenvector a row.</summary>
    public double[][] Vectors { get; }

    /// <summary>The trend functions in eigenvector coordinates.</summary>
    public double[][] Trend { get; }

    /// <summary>Correlations of positions with the axis' places, in eigenvector coordinates; one row a position.</summary>
    public double[][] CorrelationsOf(IReadOnlyList<double> positions) =>
    [
        .. positions.Select(position =>
        {
            double[] row = [.. places.Select(place => Math.Abs(place - position))];
            Matern52.Fill(row, length, row);
            return InEigenvectors(row);
        }),
    ];

    private double[] InEigenvectors(double[] vector) => [.. Vectors.Select(v => LinearAlgebra.RowOperations.Dot(v, vector))];
}
