using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>How a person triggers a kind of probe by hand, in words for the prompts.</summary>
/// <param name="Trigger">While nothing moves: how to trigger it and keep it triggered.</param>
/// <param name="LetGo">How to end that.</param>
/// <param name="DuringDescent">How to trigger it while the nozzle comes down.</param>
/// <param name="Moves">Whether it is brought out and in by the controller during the check.</param>
internal sealed record ProbeWords(string Trigger, string LetGo, string DuringDescent, bool Moves)
{
    /// <summary>The words for a kind.</summary>
    public static ProbeWords For(ProbeKind kind) => kind switch
    {
        ProbeKind.MetalSensing => new(
            "Hold a flat piece of metal (a spatula, the bed's spare sheet) under the probe's face, as near to it as the bed would come, and keep it there.",
            "Take the metal away.",
            "As soon as the nozzle comes down, bring the metal up under the probe's face. Hold it at its far edge: your fingers stay out from under the nozzle.",
            Moves: false),
        ProbeKind.NozzleContact => new(
            "The nozzle must be clean and cool. Press upward against its tip with a piece of wood, as firmly as it will meet the bed, and keep pressing.",
            "Take the wood away.",
            "As soon as the nozzle comes down, press the piece of wood up against its tip. Never a finger: wood only.",
            Moves: false),
        ProbeKind.Docked => new(
            "Push the probe's tip up with a fingertip, gently, and keep holding it.",
            "Take your finger away.",
            "As soon as the nozzle comes down, push the probe's tip up with a finger. Your finger stays under the probe, never under the nozzle.",
            Moves: false),
        _ => new(
            "The pin is out. Push it up with a fingertip, gently, and keep holding it.",
            "Take your finger away.",
            "As soon as the nozzle comes down, push the pin up with a finger. Your finger stays under the probe, never under the nozzle.",
            Moves: true),
    };
}
