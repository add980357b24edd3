using System.Collections.Immutable;
using ProbeRunner.Metrology.Nested;
using ProbeRunner.Metrology.Verdicts;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Repeatability;

/// <summary>Says where the scatter of a grouped series comes from and what to do about the largest part.</summary>
internal static class ScatterSources
{
    /// <summary>The parts with their limits, outermost first; the last are the touches themselves.</summary>
    public static ImmutableArray<ScatterPart> Parts(NestedAnalysis analysis) =>
    [
        .. analysis.Components.Select(component => new ScatterPart(
            component.Level == "reading" ? "touch" : component.Level, component.Sigma, Math.Sqrt(component.Lower), Math.Sqrt(component.Upper))),
    ];

    /// <summary>Judges by limits that hold at 95 %: fit when the touches' upper limit is below the bad sigma and no other part surely reaches it.</summary>
    /// <param name="parts">The parts; that of places is the bed's shape and not judged.</param>
    /// <param name="limits">Good and bad sigma.</param>
    public static StepVerdict Judge(ImmutableArray<ScatterPart> parts, SigmaLimits limits)
    {
        ScatterPart[] judged = [.. parts.Where(part => part.Source != "place")];
        string found = string.Join(", ", parts.Select(InWords));
        if (judged.FirstOrDefault(part => part.LowerMm > limits.GoodSigma && part.SigmaMm >= limits.BadSigma) is { } bad)
        {
            return Verdicts.NotFit(FormattableString.Invariant($"The {bad.Source} scatters more than {limits.GoodSigma:0.0000} mm for certain: {found}."), 0.95);
        }

        return judged.All(part => part.UpperMm < limits.BadSigma)
            ? Verdicts.Fit(FormattableString.Invariant($"No part reaches {limits.BadSigma:0.0000} mm: {found}."), 0.95)
            : Verdicts.Undecided(FormattableString.Invariant($"The limits of a part reach from below to above what is allowed: {found}. More groups would decide."));
    }

    /// <summary>The finding on the largest part.</summary>
    public static Finding Largest(ImmutableArray<ScatterPart> parts)
    {
        ScatterPart largest = parts.Where(part => part.Source != "place").MaxBy(part => part.SigmaMm)!;
        return new Finding(
            $"series.scatter-from-{largest.Source}",
            $"Most of the scatter comes from the {largest.Source}.",
            largest.SigmaMm,
            largest.Source == "plate" ? "plate" : largest.Source == "homing" ? "Z" : "probe",
            0.95,
            $"Standard deviations with 95 % limits: {string.Join(", ", parts.Select(InWords))}.",
            largest.Source switch
            {
                "homing" => "Clean the homing place, home more slowly or with two touches, let the machine warm up longer; measure everything that belongs together after one homing.",
                "extension" => "Clean the pin and its guide, tighten the probe's bracket; if it stays so, replace the probe.",
                "plate" => "Clean under the plate and at its stops; measure the bed anew after the plate was off.",
                "travel" => "Check belts, carriage wheels or bearings and cable pull for play; tighten what gives.",
                _ => "Tighten the probe and its bracket, slow the touch, check the wiring for noise; if it stays so, replace the probe.",
            });
    }

    private static string InWords(ScatterPart part) => FormattableString.Invariant($"{part.Source} {part.SigmaMm:0.0000} mm ({part.LowerMm:0.0000} to {part.UpperMm:0.0000})");
}
