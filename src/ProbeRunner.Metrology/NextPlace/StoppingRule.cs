namespace ProbeRunner.Metrology.NextPlace;

/// <summary>
/// When a capture may stop. The map's own standard deviation alone does not certify its error, so the errors of its last foretellings must agree.
/// The two parts were chosen on beds other than those the campaigns judge.
/// </summary>
internal static class StoppingRule
{
    /// <summary>The expected error must be at most this part of the target.</summary>
    public const double ExpectedPart = 0.87;

    /// <summary>The error found on the last touches must be at most this part of the target.</summary>
    public const double FoundPart = 1.1;
}
