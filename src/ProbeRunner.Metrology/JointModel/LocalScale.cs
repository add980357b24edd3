namespace ProbeRunner.Metrology.JointModel;

/// <summary>
/// How much rougher or smoother than the model thinks the bed is around a place: the squares of the standardised leave-one-out errors,
/// averaged with a bell-shaped weight, and with one pretended reading that agrees with the model.
/// </summary>
internal sealed class LocalScale
{
    private readonly double[] x;
    private readonly double[] y;
    private readonly double[] squares;
    private readonly double perSquaredDistance;

    /// <summary>Prepares the average over readings at places, with the squares of their standardised errors, on a bed of a given extent.</summary>
    public LocalScale(double[] x, double[] y, double[] squares, double extent)
    {
        (this.x, this.y, this.squares) = (x, y, squares);
        double reach = 0.6 * extent / Math.Sqrt(Math.Max(1, x.Length));
        perSquaredDistance = 0.5 / (reach * reach);
    }

    /// <summary>Factor on the variance at a place.</summary>
    public double At(double atX, double atY)
    {
        double sum = 1, total = 1;
        for (int i = 0; i < x.Length; i++)
        {
            double dx = x[i] - atX, dy = y[i] - atY;
            double weight = Math.Exp(-perSquaredDistance * ((dx * dx) + (dy * dy)));
            sum += weight * squares[i];
            total += weight;
        }

        return sum / total;
    }
}
