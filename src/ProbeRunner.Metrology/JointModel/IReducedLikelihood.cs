namespace ProbeRunner.Metrology.JointModel;

/// <summary>The readings' likelihood for one correlation, the trend integrated out, as a function of the ratio of noise to departure variance.</summary>
internal interface IReducedLikelihood
{
    /// <summary>Readings less trend terms: the degrees of freedom that are left.</summary>
    int Freedom { get; }

    /// <summary>Logarithm of the determinant of C = K + ratio I in what the trend leaves, and the readings' quadratic form y C^-1 y.</summary>
    (double LogDeterminant, double Quadratic) At(double ratio);
}
