using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Procedures.Steps;

/// <summary>What a person is asked and told about the plate on the bed.</summary>
internal static class PlateWords
{
    /// <summary>The question.</summary>
    /// <param name="last">The plate on record last; empty when there was none.</param>
    public static Prompt Question(string last) => Prompts.Name(
        PromptIds.Plate,
        $"Which plate (sheet) lies on the bed? Look, and give it a short name of your own, for example smooth or textured{(last.Length > 0 ? $"; Enter alone stands for {last}, the last one" : string.Empty)}. Nothing moves yet.",
        "Plates differ in thickness and shape: a Z offset and a map of the bed belong to the plate they were measured on. The name is kept with them, and you are warned when another plate lies there.",
        last.Length > 0 ? last : null);

    /// <summary>What another plate than the last means; null when it is the same, or one of them isn't known.</summary>
    public static string? WhyBeware(string now, string last) => TakenUnder.IsOtherPlate(now, last)
        ? $"The runs before this one were on the plate {last}, now {now} lies on the bed. A Z offset and a mesh stored before belong to {last}: on {now} the nozzle may be too near or too far. Measure both on {now} (step-down, grid, mesh) before you print on it."
        : null;
}
