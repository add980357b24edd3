namespace ProbeRunner.Metrology.JointModel;

/// <summary>A place of the bed and what its height counts in a sum.</summary>
/// <param name="X">Bed X, mm.</param>
/// <param name="Y">Bed Y, mm.</param>
/// <param name="Weight">Factor on the height there; with weights that add up to 0 the sum is a difference and knows no datum.</param>
public readonly record struct WeightedPlace(double X, double Y, double Weight);
