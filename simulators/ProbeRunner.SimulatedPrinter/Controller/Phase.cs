using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>One stretch of a motion, or of standing still.</summary>
/// <param name="Target">Where the motors go; null to stand still.</param>
/// <param name="Seconds">How long it takes.</param>
/// <param name="IsHoming">Whether it is the controller's own search for its places.</param>
/// <param name="LaysPlastic">Whether plastic comes out on the way.</param>
internal readonly record struct Phase(Axes3? Target, double Seconds, bool IsHoming = false, bool LaysPlastic = false)
{
    public static Phase Still(double seconds) => new(null, seconds);
}
