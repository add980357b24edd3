namespace ProbeRunner.Metrology.Results;

/// <summary>Why a computation was refused: a kind for programs, a sentence for people.</summary>
/// <param name="Kind">What was wrong with the inputs.</param>
/// <param name="Message">One sentence: what was found and what would be needed.</param>
public sealed record Reason(RefusalKind Kind, string Message)
{
    /// <summary>Fewer values than the computation needs.</summary>
    public static Reason TooFew(string what, int needed, int given) => new(
        RefusalKind.TooFew,
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{what} needs at least {needed} values; {given} were given."));

    /// <summary>A value that is not a finite number.</summary>
    public static Reason NotFinite(string what, int index) => new(
        RefusalKind.NotFinite,
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{what} number {index + 1} is not a finite number."));

    /// <summary>All values equal, where the computation needs scatter.</summary>
    public static Reason Constant(string what) => new(
        RefusalKind.Constant,
        $"{what} needs readings that differ; all of them are equal.");

    /// <summary>A parameter outside its range.</summary>
    public static Reason OutOfRange(string message) => new(RefusalKind.OutOfRange, message);

    /// <summary>The inputs break an assumption of the computation.</summary>
    public static Reason Assumption(string message) => new(RefusalKind.AssumptionBroken, message);

    /// <summary>The inputs do not determine the answer (collinear places, one level only, full separation).</summary>
    public static Reason Undetermined(string message) => new(RefusalKind.Undetermined, message);
}

/// <summary>Kinds of refusal.</summary>
public enum RefusalKind
{
    /// <summary>Fewer values than the computation needs.</summary>
    TooFew,

    /// <summary>NaN or infinity among the inputs.</summary>
    NotFinite,

    /// <summary>All values equal where scatter is needed.</summary>
    Constant,

    /// <summary>A parameter outside its range, or arrays whose lengths do not agree.</summary>
    OutOfRange,

    /// <summary>The inputs break an assumption of the computation.</summary>
    AssumptionBroken,

    /// <summary>The inputs do not determine the answer.</summary>
    Undetermined,

    /// <summary>An iteration did not settle.</summary>
    NotConverged,
}
