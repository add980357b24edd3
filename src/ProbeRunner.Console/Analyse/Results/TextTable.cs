namespace ProbeRunner.Console.Analyse.Results;

/// <summary>Lines of a label and its value, the values one below the other.</summary>
internal sealed class TextTable
{
    private readonly List<(string Label, string Value)> lines = [];

    /// <summary>Adds a line.</summary>
    public void Add(string label, string value) => lines.Add((label, value));

    /// <summary>Adds a line with a number and its unit.</summary>
    public void Add(string label, double? value, string unit = "") =>
        Add(label, unit.Length == 0 || value is null ? Figure.Of(value) : $"{Figure.Of(value)} {unit}");

    /// <summary>Writes the lines, indented by two.</summary>
    public void Write(TextWriter output)
    {
        int widest = lines.Count == 0 ? 0 : lines.Max(line => line.Label.Length);
        foreach ((string label, string value) in lines)
        {
            output.WriteLine($"  {label.PadRight(widest)}  {value}");
        }
    }
}
