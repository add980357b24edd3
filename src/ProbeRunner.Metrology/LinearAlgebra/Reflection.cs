namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>Householder reflections applied from both sides to a symmetric matrix given by its lower triangle, row by row.</summary>
internal static class Reflection
{
    /// <summary>Squares below this are rounding: readings repeated at one place leave such rows, and the square of 2/normal^2 would overflow.</summary>
    private const double Nothing = 1e-50;

    /// <summary>Makes of <paramref name="vector"/> the normal of the reflection that leaves only its last element; gives that element and 2/normal^2 (0: nothing to do).</summary>
    public static (double Last, double Factor) Normal(Span<double> vector)
    {
        double tail = RowOperations.Dot(vector[..^1], vector[..^1]), last = vector[^1];
        if (tail < Nothing)
        {
            return (last, 0);
        }

        double length = Math.Sqrt(tail + (last * last));
        double result = last > 0 ? -length : length;
        vector[^1] = last - result;
        return (result, 2 / (tail + (vector[^1] * vector[^1])));
    }

    /// <summary>Replaces the leading block of the size of <paramref name="normal"/> by its reflection from both sides.</summary>
    /// <param name="lower">Lower triangle.</param>
    /// <param name="normal">Normal of the reflection.</param>
    /// <param name="factor">2/normal^2.</param>
    /// <param name="scratch">Room for as many numbers as the normal has.</param>
    public static void ApplyToBothSides(double[][] lower, ReadOnlySpan<double> normal, double factor, Span<double> scratch)
    {
        int size = normal.Length;
        Span<double> product = scratch[..size];
        product.Clear();
        for (int i = 0; i < size; i++)
        {
            double sum = RowOperations.DotAndAddScaled(lower[i].AsSpan(0, i), normal, product, normal[i]);
            product[i] += sum + (lower[i][i] * normal[i]);
        }

        double along = factor * factor / 2 * RowOperations.Dot(product, normal);
        for (int i = 0; i < size; i++)
        {
            product[i] = (factor * product[i]) - (along * normal[i]);
        }

        for (int i = 0; i < size; i++)
        {
            RowOperations.SubtractTwo(lower[i].AsSpan(0, i + 1), product, normal[i], normal, product[i]);
        }
    }

    /// <summary>Reflects a vector's leading part.</summary>
    public static void Apply(Span<double> vector, ReadOnlySpan<double> normal, double factor)
    {
        Span<double> leading = vector[..normal.Length];
        RowOperations.AddScaled(leading, normal, -factor * RowOperations.Dot(leading, normal));
    }
}
