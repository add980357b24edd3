namespace ProbeRunner.Procedures.Engine;

/// <summary>What a step will cost, as far as can be said beforehand.</summary>
public sealed record StepPlan(int Touches = 0, int Homings = 0, int Motions = 0, int Questions = 0, int Exchanges = 0)
{
    /// <summary>How many of a kind.</summary>
    internal int Of(Requests.WorkKind kind) => kind switch
    {
        Requests.WorkKind.Touch => Touches,
        Requests.WorkKind.Homing => Homings,
        Requests.WorkKind.Motion => Motions,
        Requests.WorkKind.Question => Questions,
        _ => Exchanges,
    };
}
