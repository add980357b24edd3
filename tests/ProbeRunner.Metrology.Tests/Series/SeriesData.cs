namespace ProbeRunner.Metrology.Tests.Series;

/// <summary>Published series used as checks from outside.</summary>
internal static class SeriesData
{
    /// <summary>NIST StRD univariate, Michelso: speed of light less 299 000 km/s (Michelson 1879, in time order).</summary>
    internal static readonly double[] MichelsonLess299000 = Numbers(
        "850 740 900 1070 930 850 950 980 980 880 1000 980 930 650 760 810 1000 1000 960 960 960 940 960 940 880 800 850 880 900 840 830 790 810 880 880 830 800 790 760 800 880 880 880 860 720 720 620 860 970 950 880 910 850 870 840 840 850 840 840 840 890 810 810 820 800 770 760 740 750 760 910 920 890 860 880 720 840 850 850 780 890 840 780 810 760 810 790 810 820 850 870 870 810 740 810 940 950 800 810 870");

    /// <summary>The same in thousands of km/s, as NIST certifies them.</summary>
    internal static readonly double[] Michelson = [.. MichelsonLess299000.Select(v => (v + 299000) / 1000)];

    /// <summary>NIST StRD univariate, Mavro: filter transmittance.</summary>
    internal static readonly double[] Mavro = [.. Numbers(
        "18 17 18 19 18 17 15 14 15 15 17 18 18 19 19 21 20 16 14 13 13 15 15 16 15 14 13 14 15 14 15 16 15 16 19 20 20 21 22 23 24 25 27 26 26 26 27 26 25 24")
        .Select(v => double.Parse("2.00" + v.ToString("00", System.Globalization.CultureInfo.InvariantCulture), System.Globalization.CultureInfo.InvariantCulture))];

    /// <summary>NIST StRD univariate, Lew: deflection of a beam.</summary>
    internal static readonly double[] Lew = Numbers(
        "-213 -564 -35 -15 141 115 -420 -360 203 -338 -431 194 -220 -513 154 -125 -559 92 -21 -579 -52 99 -543 -175 162 -457 -346 204 -300 -474 164 -107 -572 -8 83 -541 -224 180 -420 -374 201 -236 -531 83 27 -564 -112 131 -507 -254 199 -311 -495 143 -46 -579 -90 136 -472 -338 202 -287 -477 169 -124 -568 17 48 -568 -135 162 -430 -422 172 -74 -577 -13 92 -534 -243 194 -355 -465 156 -81 -578 -64 139 -449 -384 193 -198 -538 110 -44 -577 -6 66 -552 -164 161 -460 -344 205 -281 -504 134 -28 -576 -118 156 -437 -381 200 -220 -540 83 11 -568 -160 172 -414 -408 188 -125 -572 -32 139 -492 -321 205 -262 -504 142 -83 -574 0 48 -571 -106 137 -501 -266 190 -391 -406 194 -186 -553 83 -13 -577 -49 103 -515 -280 201 300 -506 131 -45 -578 -80 138 -462 -361 201 -211 -554 32 74 -533 -235 187 -372 -442 182 -147 -566 25 68 -535 -244 194 -351 -463 174 -125 -570 15 72 -550 -190 172 -424 -385 198 -218 -536 96");

    /// <summary>Rosner 1983, as in NIST/SEMATECH e-Handbook 1.3.5.17.3.</summary>
    internal static readonly double[] Rosner = Numbers(
        "-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 1.91 1.94 1.96 1.99 2.06 2.09 2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 2.92 2.93 3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01");

    /// <summary>NIST/SEMATECH e-Handbook, gear diameters: ten batches of ten.</summary>
    internal static readonly double[][] Gear =
    [
        Numbers("1.006 .996 .998 1.000 .992 .993 1.002 .999 .994 1.000"),
        Numbers(".998 1.006 1.000 1.002 .997 .998 .996 1.000 1.006 .988"),
        Numbers(".991 .987 .997 .999 .995 .994 1.000 .999 .996 .996"),
        Numbers("1.005 1.002 .994 1.000 .995 .994 .998 .996 1.002 .996"),
        Numbers(".998 .998 .982 .990 1.002 .984 .996 .993 .980 .996"),
        Numbers("1.009 1.013 1.009 .997 .988 1.002 .995 .998 .981 .996"),
        Numbers(".990 1.004 .996 1.001 .998 1.000 1.018 1.010 .996 1.002"),
        Numbers(".998 1.000 1.006 1.000 1.002 .996 .998 .996 1.002 1.006"),
        Numbers("1.002 .998 .996 .995 .996 1.004 1.004 .998 .999 .991"),
        Numbers(".991 .995 .984 .994 .997 .997 .991 .998 1.004 .997"),
    ];

    /// <summary>NIST StRD NumAcc2 to 4: base + 0.2 once, then 500 times base + 0.1 and base + 0.3.</summary>
    internal static double[] NumAcc(double whole) =>
        [Tenths(whole, 2), .. Enumerable.Repeat(new[] { Tenths(whole, 1), Tenths(whole, 3) }, 500).SelectMany(pair => pair)];

    /// <summary>Numbers from a line of text.</summary>
    internal static double[] Numbers(string text) =>
        [.. text.Split([' ', '/', '|'], StringSplitOptions.RemoveEmptyEntries).Select(t => double.Parse(t, System.Globalization.CultureInfo.InvariantCulture))];

    /// <summary>Asserts agreement to a relative error.</summary>
    internal static void Near(double expected, double actual, double relative) =>
        Assert.True(
            Math.Abs(actual - expected) <= relative * Math.Abs(expected),
            string.Create(System.Globalization.CultureInfo.InvariantCulture, $"expected {expected:R}, got {actual:R}, relative error {Math.Abs((actual - expected) / expected):0.0e+0}"));

    private static double Tenths(double whole, int tenths) => ((whole * 10) + tenths) / 10;
}
