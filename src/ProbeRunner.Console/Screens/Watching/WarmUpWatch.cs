using System.Collections.Immutable;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of a warm-up while it is watched.</summary>
internal static class WarmUpWatch
{
    private const int MostPoints = 600;

    /// <summary>After an event.</summary>
    /// <param name="began">When the step began, since the run did.</param>
    public static WarmUpState After(WarmUpState state, RunEvent told, TimeSpan began) => told switch
    {
        ReadingTaken e => state with { Heights = Thinned(state.Heights).Add(new TimedHeight((e.At - began).TotalSeconds, e.Reading.Z)) },
        MachineSeen { Machine.Temperatures: { } heat } e => state with
        {
            Heat = Thinned(state.Heat).Add(new TimedHeat((e.At - began).TotalSeconds, heat.NozzleCelsius, heat.BedCelsius)),
        },
        _ => state,
    };

    /// <summary>Once it is concluded: times count from when the heaters were switched on.</summary>
    public static WarmUpState Concluded(WarmUpConclusion concluded) => new(
        [.. concluded.Points.TakeLast(MostPoints).Select(point => new TimedHeight(point.Seconds, point.HeightMm))],
        [.. concluded.Points.TakeLast(MostPoints).Select(point => new TimedHeat(point.Seconds, point.NozzleCelsius, point.BedCelsius))],
        concluded.Curve is { } curve
            ? new FittedSettling(
                curve.EndMm,
                concluded.EndStandardUncertaintyMm,
                curve.AmplitudeMm * Math.Exp(curve.FromSeconds / curve.TimeConstantSeconds),
                curve.TimeConstantSeconds,
                concluded.WaitNextTimeMinutes is { } minutes ? concluded.HotAtSeconds + (60 * minutes) : double.PositiveInfinity)
            : null,
        concluded.ToleranceMm);

    /// <summary>Every other point goes when there are too many: the course stays whole, however long it gets.</summary>
    private static ImmutableArray<T> Thinned<T>(ImmutableArray<T> points) =>
        points.Length < MostPoints ? points : [.. points.Where((_, index) => index % 2 == 0)];
}
