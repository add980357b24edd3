namespace ProbeRunner.Metrology.Results;

/// <summary>The one check that every computation makes on its inputs first.</summary>
public static class Finite
{
    /// <summary>The reason to refuse <paramref name="values"/>: too few of them, or one that is not finite; null when all is well.</summary>
    /// <param name="values">The inputs.</param>
    /// <param name="needed">How many the computation needs at least.</param>
    /// <param name="what">What is being computed, as a noun with a capital: "A tolerance interval".</param>
    public static Reason? Check(IReadOnlyList<double> values, int needed, string what)
    {
        ArgumentNullException.ThrowIfNull(values);
        for (int i = 0; i < values.Count; i++)
        {
            if (!double.IsFinite(values[i]))
            {
                return Reason.NotFinite("Value", i);
            }
        }

        return values.Count < needed ? Reason.TooFew(what, needed, values.Count) : null;
    }
}
