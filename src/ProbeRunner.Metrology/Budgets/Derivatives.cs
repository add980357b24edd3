namespace ProbeRunner.Metrology.Budgets;

/// <summary>A measurement model: the result from the values of its inputs, in their order.</summary>
/// <param name="inputs">One value for each input.</param>
public delegate double MeasurementModel(IReadOnlyList<double> inputs);

/// <summary>Partial derivatives of a model at its estimates, by extrapolated central differences (C. J. F. Ridders, 1982, from memory).</summary>
internal static class Derivatives
{
    private const int Levels = 8;

    /// <summary>First derivative along one input, starting from a step of one standard uncertainty; 0 when that is 0.</summary>
    internal static double First(MeasurementModel model, double[] at, int input, double step) =>
        step == 0 ? 0 : Extrapolate(step, h => (Shifted(model, at, (input, h)) - Shifted(model, at, (input, -h))) / (2 * h));

    /// <summary>Second derivative along two inputs, which may be the same one.</summary>
    internal static double Second(MeasurementModel model, double[] at, (int Input, double Step) one, (int Input, double Step) other)
    {
        if (one.Step == 0 || other.Step == 0)
        {
            return 0;
        }

        return Extrapolate(1, scale =>
        {
            double h = one.Step * scale;
            double k = other.Step * scale;
            if (one.Input == other.Input)
            {
                return (Shifted(model, at, (one.Input, h)) - (2 * model(at)) + Shifted(model, at, (one.Input, -h))) / (h * h);
            }

            return (Shifted(model, at, (one.Input, h), (other.Input, k)) - Shifted(model, at, (one.Input, h), (other.Input, -k))
                - Shifted(model, at, (one.Input, -h), (other.Input, k)) + Shifted(model, at, (one.Input, -h), (other.Input, -k)))
                / (4 * h * k);
        });
    }

    /// <summary>Third derivative: once along one input, twice along the other.</summary>
    internal static double Third(MeasurementModel model, double[] at, (int Input, double Step) once, (int Input, double Step) twice) =>
        First(shifted => Second(model, [.. shifted], twice, twice), at, once.Input, once.Step);

    private static double Extrapolate(double step, Func<double, double> difference)
    {
        var column = new double[Levels];
        double best = column[0] = difference(step);
        double smallestError = double.PositiveInfinity;
        for (int level = 1; level < Levels; level++)
        {
            step /= 2;
            double below = column[0];
            column[0] = difference(step);
            double gain = 4;
            for (int order = 1; order <= level; order++, gain *= 4)
            {
                double extrapolated = ((column[order - 1] * gain) - below) / (gain - 1);
                double error = Math.Max(Math.Abs(extrapolated - column[order - 1]), Math.Abs(extrapolated - below));
                below = column[order];
                column[order] = extrapolated;
                if (error < smallestError)
                {
                    smallestError = error;
                    best = extrapolated;
                }
            }

            if (smallestError == 0)
            {
                break;
            }
        }

        return best;
    }

    private static double Shifted(MeasurementModel model, double[] at, params ReadOnlySpan<(int Input, double Shift)> shifts)
    {
        double[] moved = [.. at];
        foreach ((int input, double shift) in shifts)
        {
            moved[input] += shift;
        }

        return model(moved);
    }
}
