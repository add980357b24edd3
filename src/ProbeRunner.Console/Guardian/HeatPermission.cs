using System.Collections.Immutable;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Watches;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Guardian;

/// <summary>Decides whether a run may heat with nobody at the machine: it must have been asked for, and three things must hold the heaters in check.</summary>
internal static class HeatPermission
{
    /// <summary>Decides.</summary>
    /// <param name="options">How the session is done.</param>
    /// <param name="guard">Its guardian.</param>
    /// <param name="script">What it does.</param>
    /// <param name="machine">On which machine.</param>
    /// <param name="store">Where earlier runs are kept.</param>
    /// <param name="cancel">Ends the question to the controller.</param>
    public static async Task<UnattendedHeat> DecideAsync(
        SessionOptions options, HeatGuard guard, RunScript script, IPrinter machine, RunStore store, CancellationToken cancel)
    {
        if (!options.Unattended || !script.Steps.Any(step => step.Heats))
        {
            return UnattendedHeat.NotAllowed;
        }

        var reasons = ImmutableArray.CreateBuilder<string>();
        if (options.AllowHeat is null)
        {
            reasons.Add("say for how many minutes heaters may be on: --allow-heat MINUTES.");
        }

        if (guard.WhyNone is { } none)
        {
            reasons.Add(none);
        }

        var identity = await machine.IdentifyAsync(cancel);
        if (SilenceProof.WhyMissing(store, machine.Profile.Name, identity) is { } missing)
        {
            reasons.Add(missing);
        }

        return reasons.Count > 0 ? new UnattendedHeat(null, reasons.ToImmutable()) : UnattendedHeat.AllowedFor(options.AllowHeat!.Value);
    }
}
