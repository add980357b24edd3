using System.Text.Json.Serialization;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>How a run ended.</summary>
/// <param name="Why">In a sentence: what happened, what it means for the machine, what to do now.</param>
/// <param name="Verdict">The run's judgement as far as it came.</param>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Completed), "completed")]
[JsonDerivedType(typeof(Stopped), "stopped")]
[JsonDerivedType(typeof(Faulted), "faulted")]
[JsonDerivedType(typeof(Halted), "halted")]
public abstract record RunOutcome(string Why, StepVerdict Verdict)
{
    /// <summary>All steps were done.</summary>
    public sealed record Completed(string Why, StepVerdict Verdict) : RunOutcome(Why, Verdict);

    /// <summary>The operator stopped it; machine lifted, parked, heaters off.</summary>
    public sealed record Stopped(string Why, StepVerdict Verdict) : RunOutcome(Why, Verdict);

    /// <summary>Machine, link or store failed; resumable.</summary>
    /// <param name="Alarm">What the person must do about the machine at once ("switch off at the mains"); empty when it is safe.</param>
    public sealed record Faulted(string Why, StepVerdict Verdict, string Alarm) : RunOutcome(Why, Verdict);

    /// <summary>Halted by the operator: motors and heaters cut, position lost.</summary>
    public sealed record Halted(string Why, StepVerdict Verdict) : RunOutcome(Why, Verdict);
}
