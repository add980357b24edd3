namespace ProbeRunner.Metrology.Budgets;

/// <summary>That two contributions' errors go together (JCGM 100:2008, 5.2).</summary>
/// <param name="First">Name of one contribution.</param>
/// <param name="Second">Name of another.</param>
/// <param name="Coefficient">Correlation coefficient, -1 to 1.</param>
public sealed record Correlation(string First, string Second, double Coefficient);
