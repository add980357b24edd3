using System.Collections.Immutable;

namespace ProbeRunner.Metrology.JointModel;

/// <summary>The bed's height given the readings and one setting of the scales: a Gaussian process.</summary>
internal interface ISurfaceProcess
{
    /// <summary>The scales.</summary>
    HyperParameters Setting { get; }

    /// <summary>Mean and variance of the smooth surface at a place.</summary>
    (double Mean, double Variance) At(double x, double y);

    /// <summary>Means and, when wanted, variances on a lattice, row by row.</summary>
    void OnLattice(ImmutableArray<double> xs, ImmutableArray<double> ys, double[] means, double[]? variances);

    /// <summary>Covariances of the smooth surface's heights at places with a weighted sum of heights at others: errors of near places go together.</summary>
    double[] CovariancesWith(IReadOnlyList<WeightedPlace> sum, IReadOnlyList<(double X, double Y)> places);

    /// <summary>For each reading: it less what the others say, mm, and that difference's variance.</summary>
    (double[] Errors, double[] Variances) LeaveOneOut();
}
