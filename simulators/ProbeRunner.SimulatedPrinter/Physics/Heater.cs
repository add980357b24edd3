namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>A heated part that goes to its target at a steady rate and cools at a third of it.</summary>
internal sealed class Heater(double ambientCelsius, double kelvinPerSecond)
{
    private readonly double _ambientCelsius = ambientCelsius;

    public double Celsius { get; private set; } = ambientCelsius;

    /// <summary>Whether nothing changes any more under the given target.</summary>
    public bool IsSettled(double targetCelsius) => Celsius == Goal(targetCelsius);

    /// <summary>Lets time pass; a target of 0 (off) or below the air's temperature means the air's.</summary>
    public void Advance(double seconds, double targetCelsius)
    {
        var goal = Goal(targetCelsius);
        Celsius = goal > Celsius
            ? Math.Min(goal, Celsius + (kelvinPerSecond * seconds))
            : Math.Max(goal, Celsius - (kelvinPerSecond / 3 * seconds));
    }

    private double Goal(double targetCelsius) => Math.Max(_ambientCelsius, targetCelsius);
}
