using System.Collections.Immutable;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Steps.Capture;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.Procedures.Steps.FirstLayer;
using ProbeRunner.Procedures.Steps.FirstLift;
using ProbeRunner.Procedures.Steps.GantryLevel;
using ProbeRunner.Procedures.Steps.Homing;
using ProbeRunner.Procedures.Steps.Lean;
using ProbeRunner.Procedures.Steps.MeshHandOver;
using ProbeRunner.Procedures.Steps.Preflight;
using ProbeRunner.Procedures.Steps.Repeatability;
using ProbeRunner.Procedures.Steps.Restoring;
using ProbeRunner.Procedures.Steps.Screws;
using ProbeRunner.Procedures.Steps.SelfCheck;
using ProbeRunner.Procedures.Steps.SilenceTrial;
using ProbeRunner.Procedures.Steps.StepDown;
using ProbeRunner.Procedures.Steps.Storing;
using ProbeRunner.Procedures.Steps.Summary;
using ProbeRunner.Procedures.Steps.TouchReport;
using ProbeRunner.Procedures.Steps.TouchTuning;
using ProbeRunner.Procedures.Steps.Trials;
using ProbeRunner.Procedures.Steps.Verification;
using ProbeRunner.Procedures.Steps.WarmUp;
using ProbeRunner.Procedures.Steps.XyOffset;

namespace ProbeRunner.Procedures.Steps;

/// <summary>All steps there are, by name. A new step is entered here.</summary>
public static class StepCatalogue
{
    private static readonly Dictionary<string, Func<TomlSection, Step>> Readers = new(StringComparer.Ordinal)
    {
        ["preflight"] = PreflightStep.Read,
        ["heater-trial"] = HeaterTrialStep.Read,
        ["first-lift"] = FirstLiftStep.Read,
        ["home-xy"] = HomeXyStep.Read,
        ["self-check"] = SelfCheckStep.Read,
        ["first-home-z"] = FirstHomeZStep.Read,
        ["axis-moves"] = AxisMovesStep.Read,
        ["halt-trial"] = HaltTrialStep.Read,
        ["touch-report-check"] = TouchReportStep.Read,
        ["home"] = HomeStep.Read,
        ["probe-offset"] = XyOffsetStep.Read,
        ["series"] = SeriesStep.Read,
        ["warm-up"] = WarmUpStep.Read,
        ["touch-tuning"] = TouchTuningStep.Read,
        ["gantry-level"] = GantryLevelStep.Read,
        ["screws"] = ScrewsStep.Read,
        ["step-down"] = StepDownStep.Read,
        ["lean"] = LeanStep.Read,
        ["grid"] = GridStep.Read,
        ["guided-capture"] = GuidedCaptureStep.Read,
        ["mesh"] = MeshStep.Read,
        ["store"] = StoreStep.Read,
        ["verify"] = VerifyStep.Read,
        ["first-layer"] = FirstLayerStep.Read,
        ["check-again"] = CheckAgainStep.Read,
        ["silence-trial"] = SilenceTrialStep.Read,
        ["restore-settings"] = RestoreSettingsStep.Read,
        ["conclusions"] = ConclusionsStep.Read,
    };

    /// <summary>Names of all steps, in the order of a full calibration.</summary>
    public static ImmutableArray<string> Names { get; } = [.. Readers.Keys];

    /// <summary>A step with its default parameters.</summary>
    /// <exception cref="KeyNotFoundException">There is none of that name.</exception>
    public static Step WithDefaults(string name) => Readers[name](TomlFile.Parse(string.Empty, name).Root);

    /// <summary>Reads a step from a <c>[[step]]</c> table; null when its name is unknown, with the fault added.</summary>
    internal static Step? Read(TomlSection section, FaultList faults)
    {
        string name = section.Text("do");
        if (Readers.TryGetValue(name, out Func<TomlSection, Step>? read))
        {
            return read(section);
        }

        if (section.Has("do"))
        {
            string near = NearestWord.Among(name, Names) is { } word ? $"did you mean {word}? " : string.Empty;
            faults.Add(section.WhereOf("do"), $"there is no step {name}", $"{near}Steps are {string.Join(", ", Names)}");
        }

        return null;
    }
}
