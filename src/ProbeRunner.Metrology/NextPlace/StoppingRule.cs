namespace ProbeRunner.Metrology.NextPlace;

/// <summary>
/// When a capture may stop. The map's own standard deviation alone does not certify its error, so the errors of its last foretellings must agree.
/// The numbers were chosen on beds other than those the campaigns judge. A finer target is nearer to the structure that no touch resolves:
/// it asks for more foretellings and leaves less to them.
/// </summary>
/// <param name="ErrorsJudged">How many of the last foretold touches must agree.</param>
/// <param name="ExpectedPart">The expected error must be at most this part of the target.</param>
/// <param name="FoundPart">The error found on the last touches must be at most this part of the target.</param>
internal sealed record StoppingRule(int ErrorsJudged, double ExpectedPart, double FoundPart)
{
    private const double FineTargetMm = 0.0175;

    private static readonly StoppingRule Usual = new(4, 0.9, 1.15);
    private static readonly StoppingRule Fine = new(8, 0.7, 0.9);

    /// <summary>The rule for a target, mm.</summary>
    public static StoppingRule For(double targetRmsMm) => targetRmsMm < FineTargetMm ? Fine : Usual;
}
