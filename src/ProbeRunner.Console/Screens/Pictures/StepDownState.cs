using System.Collections.Immutable;
using ProbeRunner.Metrology.Thresholds;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>The paper test as far as it has come.</summary>
/// <param name="Answers">Heights with their answers, in order, all takes.</param>
/// <param name="Estimates">What was believed after each answer of the present take from the first contact on.</param>
/// <param name="WantedHalfWidthMm">Half width of the 95 % interval at which a take is done.</param>
/// <param name="Take">Which take is being done, from 1; 0 before the first, while the machine is made ready for it.</param>
/// <param name="IsAsking">Whether the person is being asked now; the present height is then not shown, so that the hand judges and not the eye.</param>
/// <param name="Keys">What may be answered; empty when nothing is asked.</param>
internal sealed record StepDownState(
    ImmutableArray<FeltHeight> Answers,
    ImmutableArray<ThresholdEstimate> Estimates,
    double WantedHalfWidthMm,
    int Take,
    bool IsAsking,
    ImmutableArray<BigKey> Keys) : PictureState
{
    /// <summary>Nothing asked yet.</summary>
    public static StepDownState Empty { get; } = new([], [], 0.01, 0, false, []);
}
