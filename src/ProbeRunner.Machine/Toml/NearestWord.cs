namespace ProbeRunner.Machine.Toml;

/// <summary>Finds what a mistyped word was probably meant to be.</summary>
public static class NearestWord
{
    /// <summary>The known word with the smallest edit distance (insert, delete, replace, swap of neighbours), if it is near enough to be meant.</summary>
    /// <param name="word">The word as typed.</param>
    /// <param name="known">The words there are.</param>
    /// <returns>The nearest word, or null when none is within a third of the length, 1 at least.</returns>
    public static string? Among(string word, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(word);
        ArgumentNullException.ThrowIfNull(known);
        var nearest = known
            .Where(candidate => Math.Abs(candidate.Length - word.Length) <= candidate.Length)
            .Select(candidate => (Word: candidate, Distance: Distance(word, candidate)))
            .OrderBy(pair => pair.Distance)
            .FirstOrDefault();
        return nearest.Word is not null && nearest.Distance <= Math.Max(1, nearest.Word.Length / 3) ? nearest.Word : null;
    }

    /// <summary>Edit distance with swaps of neighbours counted once (optimal string alignment); case is ignored.</summary>
    internal static int Distance(string one, string other)
    {
        int[,] cost = new int[one.Length + 1, other.Length + 1];
        for (int i = 0; i <= one.Length; i++)
        {
            cost[i, 0] = i;
        }

        for (int j = 0; j <= other.Length; j++)
        {
            cost[0, j] = j;
        }

        for (int i = 1; i <= one.Length; i++)
        {
            for (int j = 1; j <= other.Length; j++)
            {
                int replace = cost[i - 1, j - 1] + (Same(one[i - 1], other[j - 1]) ? 0 : 1);
                cost[i, j] = Math.Min(replace, Math.Min(cost[i - 1, j], cost[i, j - 1]) + 1);
                if (i > 1 && j > 1 && Same(one[i - 1], other[j - 2]) && Same(one[i - 2], other[j - 1]))
                {
                    cost[i, j] = Math.Min(cost[i, j], cost[i - 2, j - 2] + 1);
                }
            }
        }

        return cost[one.Length, other.Length];
    }

    private static bool Same(char one, char other) => char.ToUpperInvariant(one) == char.ToUpperInvariant(other);
}
