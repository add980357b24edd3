using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Procedures.Conclusions;

/// <summary>Preflight: who the controller is, and everything of the machine as it was found.</summary>
/// <param name="Controller">What it says of itself.</param>
/// <param name="SettingsBefore">All settings, steps per mm and speeds among them.</param>
/// <param name="OffsetBefore">The probe offset.</param>
/// <param name="MeshBefore">The mesh's nodes; null when it has none or can't say.</param>
/// <param name="MeshCorrectionOn">Whether it corrected by them; null when it does not say.</param>
/// <param name="SoftLimitsOn">Whether its own travel limits were on; null when it does not say.</param>
/// <param name="Limits">Those limits, bed coordinates; null when it does not say.</param>
/// <param name="Switches">End switches and probe, by their plain names.</param>
public sealed record PreflightConclusion(
    StepVerdict Verdict,
    ImmutableArray<Finding> Findings,
    ControllerIdentity Controller,
    SettingsReport SettingsBefore,
    ProbeOffset OffsetBefore,
    MeshNodes? MeshBefore,
    bool? MeshCorrectionOn = null,
    bool? SoftLimitsOn = null,
    TravelLimits? Limits = null,
    ImmutableSortedDictionary<string, ProbeState>? Switches = null) : StepConclusion(Verdict, Findings);
