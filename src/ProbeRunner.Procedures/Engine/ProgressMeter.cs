using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Engine;

/// <summary>
/// How far a run is, from the steps' plans and the machine's own measured times. Starts from common guesses of a touch's or
/// homing's duration and replaces them as the first real one was measured. Never runs backwards.
/// </summary>
internal sealed class ProgressMeter(IReadOnlyList<StepPlan> plans)
{
    private static readonly WorkKind[] Kinds = Enum.GetValues<WorkKind>();

    private readonly Dictionary<WorkKind, (int Count, double Seconds)> _measured = [];
    private readonly Dictionary<WorkKind, int> _doneOfStep = [];
    private readonly Dictionary<WorkKind, int> _toldOfStep = [];
    private int _step;
    private double _spentSeconds;
    private double _shown;

    /// <summary>Fraction done, 0 to 1, and time left; null until something was measured.</summary>
    public (double Fraction, TimeSpan? Left) Now
    {
        get
        {
            double left = Kinds.Sum(kind => Left(kind) * Mean(kind));
            double fraction = _spentSeconds + left > 0 ? _spentSeconds / (_spentSeconds + left) : 0;
            _shown = Math.Clamp(fraction, _shown, 1);
            return (_shown, _measured.Count == 0 ? null : TimeSpan.FromSeconds(left));
        }
    }

    /// <summary>How long a plan will take, by the times measured so far.</summary>
    public TimeSpan Expect(StepPlan plan) => TimeSpan.FromSeconds(Kinds.Sum(kind => plan.Of(kind) * Mean(kind)));

    /// <summary>A step begins; all before it is done.</summary>
    public void BeginStep(int index)
    {
        _step = index;
        _doneOfStep.Clear();
        _toldOfStep.Clear();
    }

    /// <summary>The step in hand knows better than its plan how much of a kind of work is still to come.</summary>
    public void StillToCome(WorkKind kind, int count) => _toldOfStep[kind] = _doneOfStep.GetValueOrDefault(kind) + count;

    /// <summary>All is done.</summary>
    public void End() => BeginStep(plans.Count);

    /// <summary>A request was performed.</summary>
    public void Did(WorkKind kind, TimeSpan took)
    {
        (int count, double seconds) = _measured.GetValueOrDefault(kind);
        _measured[kind] = (count + 1, seconds + took.TotalSeconds);
        _doneOfStep[kind] = _doneOfStep.GetValueOrDefault(kind) + 1;
        _spentSeconds += took.TotalSeconds;
    }

    private int Left(WorkKind kind)
    {
        int later = plans.Skip(_step + 1).Sum(plan => plan.Of(kind));
        int wanted = _toldOfStep.TryGetValue(kind, out int told) ? told : _step < plans.Count ? plans[_step].Of(kind) : 0;
        int now = Math.Max(0, wanted - _doneOfStep.GetValueOrDefault(kind));
        return later + now;
    }

    private double Mean(WorkKind kind) => _measured.TryGetValue(kind, out (int Count, double Seconds) measured)
        ? measured.Seconds / measured.Count
        : StepPlan.UsualSeconds(kind);
}
