using ProbeRunner.Console.Screens.Pictures.Bed;

namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>Two captures of a bed.</summary>
/// <param name="Bed">The bed.</param>
/// <param name="Before">The earlier one's heights.</param>
/// <param name="After">The later one's.</param>
/// <param name="BeforeName">What the earlier one is called.</param>
/// <param name="AfterName">What the later one is called.</param>
/// <param name="Says">What the comparison says, in a sentence.</param>
internal sealed record CompareState(BedOutline Bed, BedField Before, BedField After, string BeforeName, string AfterName, string Says) : PictureState
{
    /// <summary>The later less the earlier, on the later one's lattice; NaN where the earlier has nothing.</summary>
    public BedField Difference => After with { Values = [.. Enumerable.Range(0, After.Values.Length).Select(index => After.Values[index] - Before.At(After.PlaceOf(index)))] };
}
