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

    /// <summary>R datasets: annual flow of the Nile 1871-1970 (Cobb 1978).</summary>
    internal static readonly double[] Nile = Numbers(
        "1120 1160 963 1210 1160 1160 813 1230 1370 1140 995 935 1110 994 1020 960 1180 799 958 1140 1100 1210 1150 1250 1260 1220 1030 1100 774 840 874 694 940 833 701 916 692 1020 1050 969 831 726 456 824 702 1120 1100 832 764 821 768 845 864 862 698 845 744 796 1040 759 781 865 845 944 984 897 822 1010 771 676 649 846 812 742 801 1040 860 874 848 890 744 749 838 1050 918 986 797 923 975 815 1020 906 901 1170 912 746 919 718 714 740");

    /// <summary>R datasets: level of Lake Huron 1875-1972, feet.</summary>
    internal static readonly double[] LakeHuron = Numbers(
        "580.38 581.86 580.97 580.80 579.79 580.39 580.42 580.82 581.40 581.32 581.44 581.68 581.17 580.53 580.01 579.91 579.14 579.16 579.55 579.67 578.44 578.24 579.10 579.09 579.35 578.82 579.32 579.01 579.00 579.80 579.83 579.72 579.89 580.01 579.37 578.69 578.19 578.67 579.55 578.92 578.09 579.37 580.13 580.14 579.51 579.24 578.66 578.86 578.05 577.79 576.75 576.75 577.82 578.64 580.58 579.48 577.38 576.90 576.94 576.24 576.84 576.85 576.90 577.79 578.18 577.51 577.23 578.42 579.61 579.05 579.26 579.22 579.38 579.10 577.95 578.12 579.75 580.85 580.41 579.96 579.61 578.76 578.18 577.21 577.13 579.10 578.25 577.91 576.89 575.96 576.80 577.68 578.38 578.52 579.74 579.31 579.89 579.96");

    /// <summary>R datasets: mean temperature in New Haven 1912-1971, degrees F.</summary>
    internal static readonly double[] NewHaven = Numbers(
        "49.9 52.3 49.4 51.1 49.4 47.9 49.8 50.9 49.3 51.9 50.8 49.6 49.3 50.6 48.4 50.7 50.9 50.6 51.5 52.8 51.8 51.1 49.8 50.2 50.4 51.6 51.8 50.9 48.8 51.7 51.0 50.6 51.7 51.5 52.1 51.3 51.0 54.0 51.4 52.7 53.1 54.6 52.0 52.0 50.9 52.6 50.2 52.6 51.6 51.9 50.5 50.9 51.7 51.4 51.7 50.8 51.9 51.8 51.9 53.0");

    /// <summary>Conover 1980, pp. 195 and 364: fifty two-digit numbers (most of them from memory).</summary>
    internal static readonly double[] Conover = Numbers(
        "23 36 54 61 73 23 37 54 61 73 24 40 56 62 74 27 42 57 63 75 29 43 57 64 77 31 43 58 65 81 32 44 58 66 87 33 45 58 68 89 33 48 58 68 93 35 48 59 70 97");

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
