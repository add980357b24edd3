using MathNet.Numerics.RootFinding;

namespace ProbeRunner.Metrology.Verdicts;

/// <summary>
/// Wald's sequential test of a normal's sigma, mean known (or unknown, with one less count), and its approximate characteristics
/// (Wald 1947, ch. 8). The approximations ignore by how far a boundary is overshot: true errors are smaller, true counts larger.
/// </summary>
public sealed record WaldSigmaTest
{
    private readonly double half;

    /// <summary>A test of <paramref name="goodSigma"/> against <paramref name="badSigma"/>.</summary>
    /// <param name="goodSigma">Above 0.</param>
    /// <param name="badSigma">Above <paramref name="goodSigma"/>.</param>
    /// <param name="goodCalledNotFit">Share of good ones rejected, between 0 and 0.5.</param>
    /// <param name="badCalledFit">Share of bad ones accepted, between 0 and 0.5.</param>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    public WaldSigmaTest(double goodSigma, double badSigma, double goodCalledNotFit, double badCalledFit)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(goodSigma);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(badSigma, goodSigma);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(goodCalledNotFit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(goodCalledNotFit, 0.5);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(badCalledFit);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(badCalledFit, 0.5);
        GoodSigma = goodSigma;
        BadSigma = badSigma;
        UpperLog = Math.Log((1 - badCalledFit) / goodCalledNotFit);
        LowerLog = Math.Log(badCalledFit / (1 - goodCalledNotFit));
        half = ((1 / (goodSigma * goodSigma)) - (1 / (badSigma * badSigma))) / 2;
    }

    /// <summary>Sigma that should be accepted.</summary>
    public double GoodSigma { get; }

    /// <summary>Sigma that should be rejected.</summary>
    public double BadSigma { get; }

    /// <summary>Log-likelihood ratio at or above which sigma is rejected.</summary>
    public double UpperLog { get; }

    /// <summary>Log-likelihood ratio at or below which sigma is accepted.</summary>
    public double LowerLog { get; }

    /// <summary>Sum of squares per reading at which the evidence neither rises nor falls.</summary>
    public double SquaresPerReading => Math.Log(BadSigma / GoodSigma) / half;

    /// <summary>Sum of squares at or above which sigma is rejected after <paramref name="count"/> squares.</summary>
    public double RejectAt(int count) => (UpperLog / half) + (SquaresPerReading * count);

    /// <summary>Sum of squares at or below which sigma is accepted after <paramref name="count"/> squares; negative at first: then never.</summary>
    public double AcceptAt(int count) => (LowerLog / half) + (SquaresPerReading * count);

    /// <summary>Wald's approximate probability of acceptance when the true sigma is <paramref name="sigma"/>.</summary>
    public double Acceptance(double sigma)
    {
        double h = Exponent(sigma);
        return Math.Abs(h) < 1e-9
            ? UpperLog / (UpperLog - LowerLog)
            : (Math.Exp(UpperLog * h) - 1) / (Math.Exp(UpperLog * h) - Math.Exp(LowerLog * h));
    }

    /// <summary>Wald's approximate mean number of squares until the decision when the true sigma is <paramref name="sigma"/>.</summary>
    public double MeanCount(double sigma)
    {
        double drift = (half * sigma * sigma) - Math.Log(BadSigma / GoodSigma);
        double acceptance = Acceptance(sigma);
        if (Math.Abs(Exponent(sigma)) < 1e-9)
        {
            double spread = 2 * half * half * Math.Pow(sigma, 4);
            return -UpperLog * LowerLog / spread;
        }

        return ((acceptance * LowerLog) + ((1 - acceptance) * UpperLog)) / drift;
    }

    /// <summary>The h other than 0 for which the mean of exp(h x evidence of one reading) is 1.</summary>
    private double Exponent(double sigma)
    {
        double square = half * sigma * sigma;
        double log = Math.Log(BadSigma / GoodSigma);
        double drift = square - log;
        if (Math.Abs(drift) < 1e-12)
        {
            return 0;
        }

        // The function is convex, 0 at h = 0, and falls there when the drift is negative: its other root then lies at h > 0.
        double edge = 1 / (2 * square);
        if (drift < 0)
        {
            return Brent.FindRoot(Balance, -drift / (4 * square * square), edge * (1 - 1e-14), 1e-13, 500);
        }

        double low = -1;
        while (Balance(low) < 0)
        {
            low *= 2;
        }

        return Brent.FindRoot(Balance, low, -drift / (4 * square * square) / 4, 1e-13, 500);

        double Balance(double h) => (-h * log) - (0.5 * Math.Log(1 - (2 * h * square)));
    }
}
