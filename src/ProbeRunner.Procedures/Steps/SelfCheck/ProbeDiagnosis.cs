using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>What is the matter with a probe.</summary>
public enum ProbeCondition
{
    /// <summary>Nothing.</summary>
    Healthy,

    /// <summary>It never reports a trigger.</summary>
    Dead,

    /// <summary>It always reports one.</summary>
    Stuck,

    /// <summary>It reports the opposite of what is.</summary>
    Reversed,

    /// <summary>What it reports changes while nothing changes.</summary>
    Flickering,

    /// <summary>It does not come out or in as told.</summary>
    DoesNotMove,

    /// <summary>It keeps reporting a trigger after it was let go.</summary>
    Sticks,

    /// <summary>Its states are right, yet the descent goes on: the controller does not heed it.</summary>
    NotHeeded,

    /// <summary>The controller does not say what the probe's switch reads; only the descent can tell.</summary>
    NotReported,
}

/// <summary>Tells probes apart by their symptoms. The rules are common practice, no source: one look in the air, one while it is pushed.</summary>
public static class ProbeDiagnosis
{
    private static readonly LookMoment[] Moments = Enum.GetValues<LookMoment>();

    /// <summary>The condition that explains the symptoms; <see cref="ProbeCondition.Healthy"/> while nothing speaks against that.</summary>
    public static ProbeCondition Of(ProbeSymptoms symptoms)
    {
        ArgumentNullException.ThrowIfNull(symptoms);
        if (symptoms.FailedToMove > 0 || !symptoms.SeenMoving)
        {
            return ProbeCondition.DoesNotMove;
        }

        if (symptoms.Looks.All(look => look.State == ProbeState.Unknown))
        {
            return symptoms.StoppedDescent == false ? ProbeCondition.Dead : ProbeCondition.NotReported;
        }

        if (Moments.Any(symptoms.IsMixed))
        {
            return ProbeCondition.Flickering;
        }

        ProbeState? pushed = symptoms.Steady(LookMoment.Pushed);
        return symptoms.Steady(LookMoment.Out) == ProbeState.Triggered
            ? pushed == ProbeState.Open ? ProbeCondition.Reversed : ProbeCondition.Stuck
            : OfOpenProbe(symptoms, pushed);
    }

    private static ProbeCondition OfOpenProbe(ProbeSymptoms symptoms, ProbeState? pushed)
    {
        bool pushUnseen = pushed == ProbeState.Open;
        if (pushUnseen && (!symptoms.PulledItselfIn || symptoms.StoppedDescent == false))
        {
            return ProbeCondition.Dead;
        }

        // Some pins hold an alarm after a push until it is cleared: that is no fault.
        if (symptoms.Steady(LookMoment.LetGo) == ProbeState.Triggered && symptoms.Steady(LookMoment.Cleared) != ProbeState.Open)
        {
            return ProbeCondition.Sticks;
        }

        return symptoms.StoppedDescent == false ? ProbeCondition.NotHeeded : ProbeCondition.Healthy;
    }
}
