using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Procedures.Requests;

/// <summary>
/// What a person would do when a touch gives no reading, done with nobody there: clear the fault, move the probe out and in once, and
/// touch again; a bounded number of times, then the run stops. With a person there the first failure is theirs to see.
/// </summary>
internal static class ProbeRetries
{
    private const int MostAttempts = 3;

    /// <summary>Touches.</summary>
    /// <exception cref="TouchFailedException">No attempt gave a reading.</exception>
    /// <exception cref="ProbeFaultException">The probe does not move as it should.</exception>
    public static async Task<Reading> TouchAsync(Instruments with, BedPoint place, CancellationToken cancel)
    {
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                return await with.Printer.TouchAsync(place, cancel);
            }
            catch (TouchFailedException failure) when (attempt < MostAttempts)
            {
                with.Events.Tell(at => new Warned(at, string.Empty, FormattableString.Invariant($"Attempt {attempt} of {MostAttempts} gave no reading; the probe is cleared and moved once, then it touches again. {failure.Message}")));
                await FreshenAsync(with.Printer, cancel);
            }
        }
    }

    /// <summary>The failed touch has lifted already, or the guard refuses what follows.</summary>
    private static async Task FreshenAsync(IPrinter printer, CancellationToken cancel)
    {
        try
        {
            await printer.ClearProbeFaultAsync(cancel);
        }
        catch (NotAbleException)
        {
            // Its kind holds no fault.
        }

        await printer.LiftToClearanceAsync(cancel);
        await printer.ExtendProbeAsync(cancel);
        await printer.RetractProbeAsync(cancel);
    }
}
