namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>A run script that warms the bed a little and captures it on a square grid, one touch a place; nothing else takes time.</summary>
internal static class WarmGrid
{
    /// <summary>Its text.</summary>
    /// <param name="side">Places along each side.</param>
    /// <param name="more">Further lines of the grid's table.</param>
    public static string Script(int side, string more = "soak_minutes = 0") => $"""
        title = "A warm capture"
        [[step]]
        do = "first-lift"
        confirm = false
        [[step]]
        do = "home"
        [[step]]
        do = "grid"
        columns = {side}
        rows = {side}
        touches = 1
        reference_every = 0
        bed_celsius = 40
        {more}
        """;
}
