using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;

namespace ProbeRunner.Procedures.Steps;

/// <summary>
/// One step of a run: straight-line code over a workbench, a deterministic function of the facts it gets there.
/// An instance holds its checked parameters and nothing that changes.
/// </summary>
public abstract class Step
{
    /// <summary>Its name in run scripts and on the command line.</summary>
    public abstract string Name { get; }

    /// <summary>Its name for a person.</summary>
    public abstract string Title { get; }

    /// <summary>Why it is done.</summary>
    public abstract string Purpose { get; }

    /// <summary>What a person sees when all is well.</summary>
    public abstract string WhatGoodLooksLike { get; }

    /// <summary>What must have been established before.</summary>
    public virtual Milestones Needs => Milestones.None;

    /// <summary>What had better been established before: without it the step can be done, and the person is warned of what it then means.</summary>
    public virtual Milestones Wants => Milestones.None;

    /// <summary>What it establishes.</summary>
    public virtual Milestones Gives => Milestones.None;

    /// <summary>Whether it can't be done without a person at the machine.</summary>
    public virtual bool NeedsPerson => false;

    /// <summary>Whether it switches a heater on; only such a step may.</summary>
    public virtual bool Heats => false;

    /// <summary>Whether what it finds belongs to the plate on the bed, so that it asks which one that is.</summary>
    public virtual bool DependsOnPlate => false;

    /// <summary>Whether it is done even after an earlier step found the machine not fit; such a step writes and stores nothing.</summary>
    public virtual bool RunsWhenNotFit => false;

    /// <summary>Whether a verdict other than fit ends the run's work: nothing is written or stored afterwards.</summary>
    public virtual bool IsGate => false;

    /// <summary>What it will cost on a machine, for time left.</summary>
    public virtual StepPlan Plan(MachineProfile profile) => new();

    /// <summary>Why it can't be done on a machine, with what would be accepted; null when it can. Asked before anything moves.</summary>
    public virtual string? WhyImpossible(MachineProfile profile) => null;

    /// <summary>Does it.</summary>
    internal abstract Task<StepConclusion> RunAsync(StepContext context);
}
