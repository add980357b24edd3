using System.Runtime.Versioning;
using System.Text;
using ProbeRunner.Procedures.Watches;
using ProbeRunner.Transport.Inheritance;

namespace ProbeRunner.Console.Guardian;

/// <summary>The main process's side of the guardian: starts it, gives it signs of life, tells it of the end.</summary>
[SupportedOSPlatform("linux")]
internal sealed class HeatGuardian : IRunWatch, IAsyncDisposable
{
    private static readonly TimeSpan StartLimit = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan EndLimit = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan BetweenSigns = TimeSpan.FromMilliseconds(300);

    private readonly HeirProcess process;
    private readonly TimeProvider time;
    private readonly Task<string?> answer;
    private long lastSign;

    private HeatGuardian(HeirProcess process, TimeProvider time)
    {
        (this.process, this.time) = (process, time);
        answer = process.ReadLineAsync(CancellationToken.None);
    }

    /// <summary>The guardian's process number.</summary>
    public int Id => process.Id;

    /// <summary>Starts the guardian of a run; when this returns, it watches.</summary>
    /// <exception cref="ChildStartException">There is no guardian; no heater may be on without a person at the machine.</exception>
    public static async Task<HeatGuardian> StartAsync(IInheritable link, GuardianPlan plan, TimeProvider time, CancellationToken cancel)
    {
        var (program, arguments) = ThisProgram();
        var process = HeirProcess.Start(program, arguments, link);
        try
        {
            process.Tell(Encoding.UTF8.GetBytes(plan.ToLine() + "\n"));
            var ready = await process.ReadLineAsync(cancel).WaitAsync(StartLimit, time, cancel);
            return ready == GuardianSigns.Ready
                ? new HeatGuardian(process, time)
                : throw new ChildStartException("The guardian process ended at once.");
        }
        catch (TimeoutException)
        {
            await process.DisposeAsync();
            throw new ChildStartException("The guardian process did not get ready in time.");
        }
        catch
        {
            await process.DisposeAsync();
            throw;
        }
    }

    /// <inheritdoc />
    public Sight Look()
    {
        if (answer.IsCompleted)
        {
            return Sight.MustStop("The guardian process that switches the heaters off if this program dies has itself ended, so the run stops, heaters off. Resume it to start another.");
        }

        if (time.GetElapsedTime(lastSign) >= BetweenSigns)
        {
            lastSign = time.GetTimestamp();
            process.Tell([GuardianSigns.Alive]);
        }

        return Sight.Well;
    }

    /// <summary>The run has ended. Heaters that were not confirmed off are left to the guardian.</summary>
    public async Task EndAsync(bool heatersAreOff)
    {
        process.Tell([heatersAreOff ? GuardianSigns.Ended : GuardianSigns.NotConfirmed]);
        if (!heatersAreOff)
        {
            return;
        }

        try
        {
            await answer.WaitAsync(EndLimit, time);
        }
        catch (TimeoutException)
        {
            // It ends with this process at the latest, and then asks the controller once more; that does no harm.
        }
    }

    /// <inheritdoc />
    public ValueTask DisposeAsync() => process.DisposeAsync();

    private static (string Program, string[] Arguments) ThisProgram()
    {
        var program = Environment.ProcessPath ?? throw new ChildStartException("This program's own file is not known.");
        return Path.GetFileNameWithoutExtension(program) == "dotnet"
            ? (program, [Path.Combine(AppContext.BaseDirectory, "proberunner.dll"), GuardianCommand.Name])
            : (program, [GuardianCommand.Name]);
    }
}
