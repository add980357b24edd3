using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>When the probe's switch was looked at.</summary>
public enum LookMoment
{
    /// <summary>Before it was brought out.</summary>
    Before,

    /// <summary>Out, with nothing touching it; for a fixed probe, at rest.</summary>
    Out,

    /// <summary>Brought in again.</summary>
    In,

    /// <summary>Out, while a person pushes it (or holds metal under it).</summary>
    Pushed,

    /// <summary>Out, after the person has let go.</summary>
    LetGo,

    /// <summary>After its own fault was cleared.</summary>
    Cleared,
}

/// <summary>One look at the probe's switch.</summary>
public readonly record struct ProbeLook(LookMoment Moment, ProbeState State);

/// <summary>All that was seen of a probe in the air.</summary>
/// <param name="Looks">What its switch read, in order.</param>
/// <param name="FailedToMove">How often the controller said that it did not come out or in.</param>
/// <param name="SeenMoving">Whether the person saw it move each time; true for a probe that does not move.</param>
/// <param name="PulledItselfIn">Whether it pulled itself in when it was pushed, so that no look could see it pushed.</param>
/// <param name="StoppedDescent">Whether a push stopped a descent; null when that was not tried.</param>
public sealed record ProbeSymptoms(
    ImmutableArray<ProbeLook> Looks, int FailedToMove = 0, bool SeenMoving = true, bool PulledItselfIn = false, bool? StoppedDescent = null)
{
    /// <summary>How often a state was seen at a moment.</summary>
    public int Count(LookMoment moment, ProbeState state) => Looks.Count(look => look.Moment == moment && look.State == state);

    /// <summary>The one state seen at a moment; null when there was none, or more than one.</summary>
    public ProbeState? Steady(LookMoment moment)
    {
        ProbeState[] seen = [.. Looks.Where(look => look.Moment == moment && look.State != ProbeState.Unknown).Select(look => look.State).Distinct()];
        return seen is [ProbeState only] ? only : null;
    }

    /// <summary>Whether both states were seen at one kind of moment, at which only one can be right.</summary>
    public bool IsMixed(LookMoment moment) => Count(moment, ProbeState.Open) > 0 && Count(moment, ProbeState.Triggered) > 0;
}
