using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>The lattice of thresholds, person's sigmas and drag bands over which belief is held, and what each cell expects to be answered.</summary>
internal sealed class PaperGrid
{
    private const int Sigmas = 7;
    private const int Bands = 5;

    /// <summary>Cells of the threshold lattice, mm: a tenth of the precision asked for.</summary>
    private const double SpacingMm = 0.001;

    private readonly double lapse;

    internal PaperGrid(double lowestMm, double highestMm, PaperModel model)
    {
        lapse = model.Lapse;
        int count = Math.Clamp((int)Math.Ceiling((highestMm - lowestMm) / SpacingMm), 100, 600) + 1;
        Thresholds = [.. Enumerable.Range(0, count).Select(i => lowestMm + ((highestMm - lowestMm) * i / (count - 1)))];
        PersonSigmas = Spread(model.PersonSigmaMm, model.PersonSpread, Sigmas);
        DragBands = Spread(model.DragBandMm, model.DragBandSpread, Bands);
        double[] weights = [.. from s in Enumerable.Range(0, Sigmas) from b in Enumerable.Range(0, Bands) select Bell(s, Sigmas) * Bell(b, Bands)];
        double total = weights.Sum() * count;
        Prior = [.. Enumerable.Repeat(weights, count).SelectMany(w => w).Select(w => w / total)];
    }

    internal double[] Thresholds { get; }

    internal double[] PersonSigmas { get; }

    internal double[] DragBands { get; }

    /// <summary>Belief before the first answer; cells run over drag bands fastest, then sigmas, then thresholds.</summary>
    internal double[] Prior { get; }

    /// <summary>Probability of "free".</summary>
    internal double Free(double heightMm, double thresholdMm, double sigmaMm) =>
        ((1 - lapse) * NormalTable.Below((heightMm - thresholdMm) / sigmaMm)) + (lapse / 3);

    /// <summary>Probability of "pinched".</summary>
    internal double Pinched(double heightMm, double thresholdMm, double sigmaMm, double bandMm) =>
        ((1 - lapse) * NormalTable.Below((thresholdMm - bandMm - heightMm) / sigmaMm)) + (lapse / 3);

    private static double[] Spread(double median, double logSd, int count) =>
        [.. Enumerable.Range(0, count).Select(i => median * Math.Exp(logSd * Standard(i, count)))];

    private static double Bell(int i, int count) => StandardNormal.Density(Standard(i, count));

    private static double Standard(int i, int count) => -2 + (4.0 * i / (count - 1));
}
