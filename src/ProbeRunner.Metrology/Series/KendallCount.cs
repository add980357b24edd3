namespace ProbeRunner.Metrology.Series;

/// <summary>Counts of rising and falling pairs, in n log n steps.</summary>
internal static class KendallCount
{
    /// <summary>Pairs in which the later value is higher, less pairs in which it is lower.</summary>
    internal static long Score(double[] values)
    {
        var work = (double[])values.Clone();
        var spare = new double[values.Length];
        long falling = Falling(work, spare, 0, work.Length);
        long pairs = (long)values.Length * (values.Length - 1) / 2;
        long tied = TieSizes(work).Sum(size => (long)size * (size - 1) / 2);
        return pairs - tied - (2 * falling);
    }

    /// <summary>Sizes of the groups of equal values among sorted ones, groups of one left out.</summary>
    internal static IEnumerable<int> TieSizes(double[] sorted)
    {
        int start = 0;
        for (int i = 1; i <= sorted.Length; i++)
        {
            if (i == sorted.Length || sorted[i] != sorted[start])
            {
                if (i - start > 1)
                {
                    yield return i - start;
                }

                start = i;
            }
        }
    }

    /// <summary>Merge sort of a stretch that counts the pairs it had to turn round.</summary>
    private static long Falling(double[] values, double[] spare, int start, int end)
    {
        if (end - start < 2)
        {
            return 0;
        }

        int middle = (start + end) / 2;
        long turned = Falling(values, spare, start, middle) + Falling(values, spare, middle, end);
        int left = start;
        int right = middle;
        for (int i = start; i < end; i++)
        {
            if (right >= end || (left < middle && values[left] <= values[right]))
            {
                spare[i] = values[left++];
            }
            else
            {
                spare[i] = values[right++];
                turned += middle - left;
            }
        }

        Array.Copy(spare, start, values, start, end - start);
        return turned;
    }
}
