using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Probe self-check in the air.</summary>
/// <param name="Cycles">How often it was brought out and in, or looked at where it has nothing to bring out.</param>
/// <param name="Faults">Cycles in which it did not come out, or read triggered with nothing touching it.</param>
/// <param name="TriggerStoppedDescent">Whether a trigger by hand stopped a descent high above the bed; false also when that was not tried.</param>
/// <param name="Condition">What its symptoms mean: "healthy", "dead", "stuck", "reversed", "flickering" and so on.</param>
/// <param name="Looks">How often each state was seen at each moment.</param>
/// <param name="ExtendSeconds">Mean time to come out; 0 for a probe that does not.</param>
/// <param name="LongestExtendSeconds">The longest of them.</param>
/// <param name="DescentSeconds">From the start of the descent until it had stopped and lifted; 0 when it was not tried.</param>
public sealed record SelfCheckConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    int Cycles,
    int Faults,
    bool TriggerStoppedDescent,
    string Condition = "",
    IReadOnlyList<LookCount>? Looks = null,
    double ExtendSeconds = 0,
    double LongestExtendSeconds = 0,
    double DescentSeconds = 0) : StepConclusion(Verdict, Findings);

/// <summary>How often the probe's switch was seen in a state at one kind of moment.</summary>
/// <param name="Moment">In words: "before", "out", "in", "pushed", "let go", "cleared".</param>
/// <param name="State">What the controller said.</param>
/// <param name="Count">How often.</param>
public sealed record LookCount(string Moment, ProbeState State, int Count);
