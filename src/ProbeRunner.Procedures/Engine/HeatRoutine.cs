using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Printers;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Brings the heaters to targets and waits until they are there, outside any step. Gives way to stop and halt.</summary>
internal sealed class HeatRoutine(IPrinter printer, RunControl control)
{
    private const double NearCelsius = 3;
    private const int MostLooks = 450;
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(4);

    /// <summary>Sets targets and waits until both heaters are within 3 degC of them; a heater that is off may be anywhere.</summary>
    /// <exception cref="Steps.StepFailedException">They are not there within half an hour.</exception>
    public async Task ReachAsync(double nozzleCelsius, double bedCelsius)
    {
        await printer.SetHeaterTargetsAsync(nozzleCelsius, bedCelsius, CancellationToken.None);
        for (int look = 0; look < MostLooks; look++)
        {
            Temperatures heat = await printer.ReadTemperaturesAsync(CancellationToken.None);
            if (IsThere(heat.NozzleCelsius, nozzleCelsius) && IsThere(heat.BedCelsius, bedCelsius))
            {
                return;
            }

            await StandAsync(BetweenLooks);
        }

        throw new Steps.StepFailedException("The heaters did not reach their temperatures within half an hour. Heaters go off now. Check thermistors, heaters and draughts before trying again.");
    }

    /// <summary>Lets the machine stand for a time, its temperatures told all the while.</summary>
    public async Task StandAsync(TimeSpan time)
    {
        for (TimeSpan stood = TimeSpan.Zero; stood < time; stood += BetweenLooks)
        {
            control.ThrowIfEnding();
            await printer.DwellAsync(BetweenLooks, CancellationToken.None);
            await printer.ReadTemperaturesAsync(CancellationToken.None);
        }
    }

    private static bool IsThere(double celsius, double target) => target == 0 || Math.Abs(celsius - target) <= NearCelsius;
}
