using ProbeRunner.Metrology.Distributions;

namespace ProbeRunner.Metrology.Thresholds;

/// <summary>The lattice of thresholds, person's sigmas and drag bands over which belief is held, and what each cell expects to be answered.</summary>
internal sealed class PaperGrid
{
    private const int Sigmas = 9;
    private const int Bands = 6;
    private readonly double lapse;

    internal PaperGrid(double lowestMm, double highestMm, PaperModel model)
    {
        lapse = model.Lapse;
        int count = Math.Clamp((int)Math.Ceiling((highestMm - lowestMm) / 0.001), 100, 400) + 1;
        Thresholds = [.. Enumerable.Range(0, count).Select(i => lowestMm + ((highestMm - lowestMm) * i / (count - 1)))];
        PersonSigmas = Spread(model.PersonSigmaMm, model.PersonSpread, Sigmas);
        DragBands = Spread(model.DragBandMm, model.DragBandSpread, Bands);
        Prior = new double[count * Sigmas * Bands];
        int cell = 0;
        double total = 0;
        for (int t = 0; t < count; t++)
        {
            for (int s = 0; s < Sigmas; s++)
            {
                for (int b = 0; b < Bands; b++)
                {
                    Prior[cell] = Bell(s, Sigmas) * Bell(b, Bands);
                    total += Prior[cell++];
                }
            }
        }

        for (cell = 0; cell < Prior.Length; cell++)
        {
            Prior[cell] /= total;
        }
    }

    internal double[] Thresholds { get; }

    internal double[] PersonSigmas { get; }

    internal double[] DragBands { get; }

    internal double[] Prior { get; }

    /// <summary>Threshold of a cell.</summary>
    internal double ThresholdOf(int cell) => Thresholds[cell / (PersonSigmas.Length * DragBands.Length)];

    /// <summary>Person's sigma of a cell.</summary>
    internal double SigmaOf(int cell) => PersonSigmas[cell / DragBands.Length % PersonSigmas.Length];

    /// <summary>Probability of <see cref="PaperAnswer.Free"/> and of <see cref="PaperAnswer.Pinched"/> at a height, for every cell.</summary>
    internal (double[] Free, double[] Pinched) Expect(double heightMm)
    {
        var free = new double[Prior.Length];
        var pinched = new double[Prior.Length];
        int cell = 0;
        foreach (double threshold in Thresholds)
        {
            foreach (double sigma in PersonSigmas)
            {
                double feltFree = ((1 - lapse) * StandardNormal.Below((heightMm - threshold) / sigma)) + (lapse / 3);
                foreach (double band in DragBands)
                {
                    free[cell] = feltFree;
                    pinched[cell++] = ((1 - lapse) * StandardNormal.Below((threshold - band - heightMm) / sigma)) + (lapse / 3);
                }
            }
        }

        return (free, pinched);
    }

    private static double[] Spread(double median, double logSd, int count) =>
        [.. Enumerable.Range(0, count).Select(i => median * Math.Exp(logSd * Standard(i, count)))];

    private static double Bell(int i, int count) => StandardNormal.Density(Standard(i, count));

    private static double Standard(int i, int count) => -2 + (4.0 * i / (count - 1));
}
