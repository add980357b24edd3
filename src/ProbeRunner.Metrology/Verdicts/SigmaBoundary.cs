namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// How much evidence decides, after how many readings. Found by simulation at bad / good = 2 and confidence 0.95 (VerdictCampaign);
/// moved by the change of ln((1 - error) / error) for another confidence, and up to Wald's bound, which needs no luck, for closer limits.
/// </summary>
internal sealed class SigmaBoundary
{
    private readonly bool anyTails;
    private readonly double shift;
    private readonly double closeness;
    private readonly int cap;

    internal SigmaBoundary(SigmaLimits limits)
    {
        anyTails = limits.Tails == TailAssumption.Any;
        shift = Odds(limits.Confidence) - Odds(0.95);
        closeness = Math.Clamp(2 - (limits.BadSigma / limits.GoodSigma), 0, 1);
        cap = limits.Cap;
    }

    /// <summary>Evidence for fit at or above which the series is fit.</summary>
    internal double Fit(int readings) => anyTails
        ? AtLeastWald(readings >= LastAnyTails ? 1.709 : 3.328 + (8.645 / (readings - 1)))
        : AtLeastWald(readings >= LastNormal ? 1.5 : 2.73);

    /// <summary>Evidence for not fit at or above which the series is not fit.</summary>
    internal double NotFit(int readings) => anyTails
        ? AtLeastWald(readings >= LastAnyTails ? 1.913 : 3.827 - (1.094 / (readings - 1)))
        : AtLeastWald(readings >= LastNormal ? 0.5 : 1.80);

    /// <summary>At the usual cap, where the choice is between this and no answer, less evidence decides. A cap set lower does not.</summary>
    private int LastAnyTails => Math.Max(cap, 40);

    private int LastNormal => Math.Max(cap, 25);

    private double AtLeastWald(double tuned) => tuned + shift + (closeness * Math.Max(0, Odds(0.95) - tuned));

    private static double Odds(double confidence) => Math.Log(confidence / (1 - confidence));
}
