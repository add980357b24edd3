using System.Numerics;

namespace ProbeRunner.Metrology.LinearAlgebra;

/// <summary>
/// exp(-s) for many s of zero or more, to within two units in the last place. It is our own because a run must choose the same places when it is replayed:
/// the runtime's vector exponential may differ in its last digit between quickly and thoroughly compiled code; fused multiplications do not.
/// </summary>
internal static class DecayingExponential
{
    private const double Log2E = 1.4426950408889634;
    private const double Ln2High = 6.93147180369123816490e-01;
    private const double Ln2Low = 1.90821492927058770002e-10;
    private const double Largest = 700;

    /// <summary>1/k! for k from 13 down to 0: the remainder is below half a unit in the last place for |r| up to ln 2 / 2.</summary>
    private static readonly double[] Factorials =
        [.. Enumerable.Range(0, 14).Select(k => 1 / Enumerable.Range(1, 13 - k).Aggregate(1.0, (product, i) => product * i))];

    /// <summary>exp(-s); 1e-304 and less counts as that.</summary>
    public static Vector<double> At(Vector<double> s)
    {
        Vector<double> x = -Vector.Min(s, new Vector<double>(Largest));
        Vector<double> power = Vector.Floor(Vector.FusedMultiplyAdd(x, new Vector<double>(Log2E), new Vector<double>(0.5)));
        Vector<double> rest = Vector.FusedMultiplyAdd(power, new Vector<double>(-Ln2High), x);
        rest = Vector.FusedMultiplyAdd(power, new Vector<double>(-Ln2Low), rest);
        var sum = new Vector<double>(Factorials[0]);
        for (int k = 1; k < Factorials.Length; k++)
        {
            sum = Vector.FusedMultiplyAdd(sum, rest, new Vector<double>(Factorials[k]));
        }

        Vector<long> exponent = (Vector.ConvertToInt64(power) + new Vector<long>(1023)) << 52;
        return sum * Vector.AsVectorDouble(exponent);
    }
}
