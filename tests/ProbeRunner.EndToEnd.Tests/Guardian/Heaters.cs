using System.Diagnostics;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.EndToEnd.Tests.Guardian;

/// <summary>What the guardian's tests do to a run that heats, and see of the simulated machine's own heaters.</summary>
internal static class Heaters
{
    /// <summary>Waits until they are on.</summary>
    public static async Task HotAsync(SensesClient person, string which = "both")
    {
        var began = TimeProvider.System.GetTimestamp();
        while (await person.AskAsync("look heaters") != which)
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(30), "The heaters never went on.");
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System);
        }
    }

    /// <summary>Waits until they are off; how long that took.</summary>
    public static async Task<TimeSpan> UntilOffAsync(SensesClient person)
    {
        var began = TimeProvider.System.GetTimestamp();
        while (await person.AskAsync("look heaters") != "off")
        {
            Assert.True(TimeProvider.System.GetElapsedTime(began) < TimeSpan.FromSeconds(30), "The heaters stayed on.");
            await Task.Delay(TimeSpan.FromMilliseconds(10), TimeProvider.System);
        }

        return TimeProvider.System.GetElapsedTime(began);
    }

    /// <summary>Sends a signal to processes, all at once.</summary>
    public static async Task SignalAsync(string signal, params int[] processes)
    {
        using var kill = Process.Start("kill", [signal, .. processes.Select(process => $"{process}")]);
        await kill.WaitForExitAsync();
    }

    /// <summary>The process number of a run's guardian.</summary>
    public static async Task<int> GuardianOfAsync(int run)
    {
        using var search = Process.Start(new ProcessStartInfo("pgrep", ["-P", $"{run}", "-f", "guard-heaters"]) { RedirectStandardOutput = true })!;
        return int.Parse(await search.StandardOutput.ReadToEndAsync(), System.Globalization.CultureInfo.InvariantCulture);
    }
}
