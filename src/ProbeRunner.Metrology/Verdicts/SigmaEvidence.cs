namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// Evidence for fit and for not fit after some readings: ln of how much better the laws of scatter with one sigma explain them than
/// those with the other. The laws' weights differ between the two questions, for the errors to be guarded against differ.
/// </summary>
/// <param name="ForFit">Evidence for the good sigma.</param>
/// <param name="ForNotFit">Evidence for the bad sigma.</param>
internal readonly record struct SigmaEvidence(double ForFit, double ForNotFit)
{
    internal static SigmaEvidence Of(IReadOnlyList<double> readings, SigmaLimits limits)
    {
        var likelihood = new ScatterLikelihood(readings, limits.GoodSigma, limits.BadSigma);
        double normalGood = likelihood.Log(ScatterShape.Normal, limits.GoodSigma);
        double normalBad = likelihood.Log(ScatterShape.Normal, limits.BadSigma);
        if (limits.Tails == TailAssumption.Normal)
        {
            return new SigmaEvidence(normalGood - normalBad, normalBad - normalGood);
        }

        double heavyGood = likelihood.Log(ScatterShape.HeavyTailed, limits.GoodSigma);
        double heavyBad = likelihood.Log(ScatterShape.HeavyTailed, limits.BadSigma);
        double outliersGood = likelihood.Log(ScatterShape.WithOutliers, limits.GoodSigma);
        double outliersBad = likelihood.Log(ScatterShape.WithOutliers, limits.BadSigma);

        // ln of the weights of heavy tails and of outliers beside the normal law, found by simulation (VerdictCampaign).
        double fitGood = ScatterLikelihood.LogSum([normalGood, heavyGood - 2.453, outliersGood - 1.343]);
        double fitBad = ScatterLikelihood.LogSum([normalBad, heavyBad - 0.907, outliersBad - 7.725]);
        double notFitGood = ScatterLikelihood.LogSum([normalGood, heavyGood - 0.753, outliersGood - 0.603]);
        double notFitBad = ScatterLikelihood.LogSum([normalBad, heavyBad - 1.754, outliersBad - 1.610]);
        return new SigmaEvidence(fitGood - fitBad, notFitBad - notFitGood);
    }
}
