namespace ProbeRunner.Metrology.Tests.Budgets;

/// <summary>Assertions on published numbers, with the tolerance said in the test.</summary>
internal static class Close
{
    internal static void Relative(double expected, double actual, double tolerance) =>
        Assert.True(
            Math.Abs(actual - expected) <= tolerance * Math.Abs(expected),
            FormattableString.Invariant($"expected {expected:R} within a relative {tolerance}, got {actual:R}"));

    internal static void Absolute(double expected, double actual, double tolerance) =>
        Assert.True(
            Math.Abs(actual - expected) <= tolerance,
            FormattableString.Invariant($"expected {expected:R} within {tolerance}, got {actual:R}"));
}
