namespace ProbeRunner.Procedures.Engine;

/// <summary>What a step will cost, as far as can be said beforehand.</summary>
public sealed record StepPlan(int Touches = 0, int Homings = 0, int Motions = 0, int Questions = 0, int Exchanges = 0)
{
    /// <summary>How long that takes with the usual times of bench machines, before this machine's own are known.</summary>
    public TimeSpan UsualTime => TimeSpan.FromSeconds(Enum.GetValues<Requests.WorkKind>().Sum(kind => Of(kind) * UsualSeconds(kind)));

    /// <summary>What one piece of work usually takes, s; guesses from common practice, replaced by the machine's own times as a run goes on.</summary>
    internal static double UsualSeconds(Requests.WorkKind kind) => kind switch
    {
        Requests.WorkKind.Touch => 8,
        Requests.WorkKind.Homing => 20,
        Requests.WorkKind.Motion => 2,
        Requests.WorkKind.Question => 8,
        _ => 0.1,
    };

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
