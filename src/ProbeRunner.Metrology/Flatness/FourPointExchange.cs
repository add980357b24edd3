using System.Numerics;
using System.Runtime.InteropServices;
using ProbeRunner.Metrology.Planes;
using Plane = ProbeRunner.Metrology.Planes.Plane;

namespace ProbeRunner.Metrology.Flatness;

/// <summary>
/// The exchange behind <see cref="MinimumZone"/>. Four points with signs +1 (upper) and -1 (lower) and weights of sum 1 for which the signed,
/// weighted sum of (1, x, y) vanishes: no plane leaves all four closer than their levelled deviation, so it bounds every plane's from below.
/// The point that lies farthest out enters, one leaves, the deviation grows, until no point lies outside.
/// </summary>
internal sealed class FourPointExchange
{
    private const int MostExchanges = 2000;
    private const int ExchangesBeforeCare = 60;
    private const double Rounding = 4e-14;

    private readonly double[] x;
    private readonly double[] y;
    private readonly double[] z;
    private readonly int[] basis = new int[4];
    private readonly double[] signs = new double[4];
    private readonly double[] weights = new double[4];

    private FourPointExchange(double[] x, double[] y, double[] z) => (this.x, this.y, this.z) = (x, y, z);

    /// <summary>Solves for points that have been checked to span a plane; null when it did not settle.</summary>
    public static MinimumZone? Solve(SurfacePoint[] points)
    {
        int count = points.Length;
        double[] x = new double[count], y = new double[count], z = new double[count];
        Box box = Box.Around(points);
        double centreX = (box.MinX + box.MaxX) / 2, centreY = (box.MinY + box.MaxY) / 2;
        double scale = Math.Max(box.Width, box.Depth) / 2, lowest = double.MaxValue, highest = double.MinValue;
        foreach (SurfacePoint point in points)
        {
            lowest = Math.Min(lowest, point.Z);
            highest = Math.Max(highest, point.Z);
        }

        double middle = lowest + ((highest - lowest) / 2), height = highest > lowest ? highest - lowest : 1;
        for (int i = 0; i < count; i++)
        {
            SurfacePoint point = points[i];
            (x[i], y[i], z[i]) = ((point.X - centreX) / scale, (point.Y - centreY) / scale, (point.Z - middle) / height);
        }

        var exchange = new FourPointExchange(x, y, z);
        if (exchange.Run() is not { } found)
        {
            return null;
        }

        double a = found.A * height / scale, b = found.B * height / scale;
        IEnumerable<int> contacts = Enumerable.Range(0, 4).Where(i => exchange.weights[i] > 1e-12 && found.Deviation > 0);
        return new MinimumZone(
            new Plane(a, b, middle + (found.C * height) - (a * centreX) - (b * centreY)),
            2 * found.Deviation * height,
            [.. contacts.Where(i => exchange.signs[i] > 0).Select(i => exchange.basis[i]).Order()],
            [.. contacts.Where(i => exchange.signs[i] < 0).Select(i => exchange.basis[i]).Order()],
            Math.Max(0, found.Excess) * height);
    }

    private (double A, double B, double C, double Deviation, double Excess)? Run()
    {
        Plane? flat = Start();
        if (flat is { } plane)
        {
            return (plane.A, plane.B, plane.C, 0, 0);
        }

        double[] equations = new double[20];
        for (int round = 0; round < MostExchanges; round++)
        {
            double[] level = Level(equations);
            (double farthest, int entering) = Farthest(level[0], level[1], level[2]);
            double deviation = level[3];
            if (farthest <= deviation + Rounding)
            {
                return (level[1], level[2], level[0], Math.Max(0, deviation), farthest - deviation);
            }

            bool careful = round >= ExchangesBeforeCare;
            if (careful)
            {
                entering = FirstOutside(level[0], level[1], level[2], deviation + Rounding); // the least index first never cycles (Bland)
            }

            if (!Exchange(entering, Residual(entering, level[0], level[1], level[2]) > 0 ? 1 : -1, equations, careful))
            {
                return null;
            }
        }

        return null;
    }

    /// <summary>Three places that span the bed, and the reading farthest off their plane; the plane itself when no reading is off it.</summary>
    private Plane? Start()
    {
        int first = IndexOfLargest(i => -x[i] - y[i]);
        int second = IndexOfLargest(i => Square(x[i] - x[first]) + Square(y[i] - y[first]));
        double Beside(int i) => ((x[i] - x[first]) * (y[second] - y[first])) - ((y[i] - y[first]) * (x[second] - x[first]));
        int third = IndexOfLargest(i => Math.Abs(Beside(i)));
        double[] equations =
        [
            1, x[first], y[first], z[first],
            1, x[second], y[second], z[second],
            1, x[third], y[third], z[third],
        ];
        double[] plane = Elimination.Solve(equations, 3)!;
        (double off, int fourth) = Farthest(plane[0], plane[1], plane[2]);
        if (off <= Rounding)
        {
            return new Plane(plane[1], plane[2], plane[0]);
        }

        (basis[0], basis[1], basis[2], basis[3]) = (first, second, third, fourth);
        double[] balance =
        [
            1, 1, 1, -1,
            x[first], x[second], x[third], -x[fourth],
            y[first], y[second], y[third], -y[fourth],
        ];
        double[] shares = [.. Elimination.Solve(balance, 3)!, 1];
        double total = shares.Sum(Math.Abs);
        for (int i = 0; i < 4; i++)
        {
            signs[i] = shares[i] >= 0 ? 1 : -1;
            weights[i] = Math.Abs(shares[i]) / total;
        }

        if (Enumerable.Range(0, 4).Sum(i => signs[i] * weights[i] * z[basis[i]]) < 0)
        {
            for (int i = 0; i < 4; i++)
            {
                signs[i] = -signs[i];
            }
        }

        return null;
    }

    /// <summary>The plane (c, a, b) that leaves all four points at the same deviation, and that deviation.</summary>
    private double[] Level(double[] equations)
    {
        for (int i = 0; i < 4; i++)
        {
            (equations[5 * i], equations[(5 * i) + 1], equations[(5 * i) + 2]) = (1, x[basis[i]], y[basis[i]]);
            (equations[(5 * i) + 3], equations[(5 * i) + 4]) = (signs[i], z[basis[i]]);
        }

        return Elimination.Solve(equations, 4) ?? [0, 0, 0, 0];
    }

    private bool Exchange(int entering, double sign, double[] equations, bool careful)
    {
        for (int i = 0; i < 4; i++)
        {
            equations[i] = signs[i];
            equations[5 + i] = signs[i] * x[basis[i]];
            equations[10 + i] = signs[i] * y[basis[i]];
            equations[15 + i] = 1;
        }

        (equations[4], equations[9], equations[14], equations[19]) = (sign, sign * x[entering], sign * y[entering], 1);
        if (Elimination.Solve(equations, 4) is not { } shares)
        {
            return false;
        }

        int leaving = -1;
        double step = double.PositiveInfinity;
        for (int i = 0; i < 4; i++)
        {
            if (shares[i] > 1e-13)
            {
                double ratio = weights[i] / shares[i];
                bool tie = leaving >= 0 && ratio <= step + 1e-15;
                bool preferred = tie && (careful ? basis[i] < basis[leaving] : shares[i] > shares[leaving]);
                if (ratio < step - 1e-15 || preferred)
                {
                    (leaving, step) = (i, Math.Min(ratio, step));
                }
            }
        }

        if (leaving < 0)
        {
            return false;
        }

        for (int i = 0; i < 4; i++)
        {
            weights[i] = Math.Max(0, weights[i] - (step * shares[i]));
        }

        (basis[leaving], signs[leaving], weights[leaving]) = (entering, sign, step);
        return true;
    }

    private double Residual(int i, double c, double a, double b) => z[i] - (c + (a * x[i]) + (b * y[i]));

    private int FirstOutside(double c, double a, double b, double deviation)
    {
        int i = 0;
        while (Math.Abs(Residual(i, c, a, b)) <= deviation && i < x.Length - 1)
        {
            i++;
        }

        return i;
    }

    /// <summary>Largest distance from the plane and the point that has it.</summary>
    private (double Distance, int Index) Farthest(double c, double a, double b)
    {
        ReadOnlySpan<Vector<double>> vx = MemoryMarshal.Cast<double, Vector<double>>(x);
        ReadOnlySpan<Vector<double>> vy = MemoryMarshal.Cast<double, Vector<double>>(y);
        ReadOnlySpan<Vector<double>> vz = MemoryMarshal.Cast<double, Vector<double>>(z);
        Vector<double> va = new(-a), vb = new(-b), vc = new(c), most = new(-1.0);
        Vector<long> where = Vector<long>.Zero, now = Vector<long>.Zero;
        for (int i = 0; i < vx.Length; i++)
        {
            Vector<double> distance = Vector.Abs(Vector.FusedMultiplyAdd(vx[i], va, Vector.FusedMultiplyAdd(vy[i], vb, vz[i] - vc)));
            Vector<long> larger = Vector.GreaterThan(distance, most);
            most = Vector.ConditionalSelect(larger, distance, most);
            where = Vector.ConditionalSelect(larger, now, where);
            now += Vector<long>.One;
        }

        (double distanceOut, int index) = (-1, 0);
        for (int lane = 0; lane < Vector<double>.Count; lane++)
        {
            if (most[lane] > distanceOut)
            {
                (distanceOut, index) = (most[lane], ((int)where[lane] * Vector<double>.Count) + lane);
            }
        }

        for (int i = vx.Length * Vector<double>.Count; i < x.Length; i++)
        {
            if (Math.Abs(Residual(i, c, a, b)) > distanceOut)
            {
                (distanceOut, index) = (Math.Abs(Residual(i, c, a, b)), i);
            }
        }

        return (distanceOut, index);
    }

    private int IndexOfLargest(Func<int, double> value)
    {
        (double most, int index) = (double.NegativeInfinity, 0);
        for (int i = 0; i < x.Length; i++)
        {
            double current = value(i);
            if (current > most)
            {
                (most, index) = (current, i);
            }
        }

        return index;
    }

    private static double Square(double value) => value * value;
}
