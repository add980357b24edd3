namespace ProbeRunner.Metrology.NextPlace;

/// <summary>
/// When a capture may stop. The map's own standard deviation alone does not certify its error, so the errors of its last foretellings must agree.
/// A finer target is nearer to the structure that no touch resolves: it asks for more foretellings to agree.
/// </summary>
/// <remarks>
/// For fine targets chosen on beds 3000 to 3201 of the suite's generator (of those, 98 % were then within 0.015 mm), shown on its beds 1000 to 1199, which had
/// no part in it: 96 % within 0.015 mm, with 0.37 of a plain grid's touches.
/// </remarks>
/// <param name="ErrorsJudged">How many of the last foretold touches must agree.</param>
/// <param name="ExpectedPart">The expected error must be at most this part of the target.</param>
/// <param name="FoundPart">The error found on the last touches must be at most this part of the target.</param>
internal sealed record StoppingRule(int ErrorsJudged, double ExpectedPart, double FoundPart)
{
    private const double FineTargetMm = 0.0175;

    private static readonly StoppingRule Usual = new(4, 0.9, 1.15);
    private static readonly StoppingRule Fine = new(16, 0.9, 1.0);

    /// <summary>The rule for a target, mm.</summary>
    public static StoppingRule For(double targetRmsMm) => targetRmsMm < FineTargetMm ? Fine : Usual;
}
