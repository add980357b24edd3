using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console;

/// <summary>What the program tells its caller by its exit code.</summary>
internal static class ExitCodes
{
    /// <summary>Done and fit.</summary>
    public const int Fit = 0;

    /// <summary>Done; something is not fit, or undecided.</summary>
    public const int NotFit = 1;

    /// <summary>Wrong use or bad input; nothing moved.</summary>
    public const int BadInput = 2;

    /// <summary>Machine or link failed; stopped safely; resumable.</summary>
    public const int MachineFailed = 3;

    /// <summary>Stopped by the operator.</summary>
    public const int StoppedByOperator = 4;

    /// <summary>An error of the program itself.</summary>
    public const int InternalError = 5;

    /// <summary>The code of a run that ended so.</summary>
    public static int Of(RunOutcome outcome) => outcome switch
    {
        RunOutcome.Completed { Verdict.State: VerdictWord.Fit } => Fit,
        RunOutcome.Completed => NotFit,
        RunOutcome.Faulted => MachineFailed,
        _ => StoppedByOperator,
    };
}
