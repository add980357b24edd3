using System.Collections.Immutable;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Notices;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Watches;
using ProbeRunner.Transport.Inheritance;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Console.Guardian;

/// <summary>A session's guardian: there for every run that heats, where there can be one.</summary>
internal sealed class HeatGuard : IAsyncDisposable
{
    private readonly HeatGuardian? guardian;
    private bool hasBegun;
    private bool hasEnded;

    private HeatGuard(HeatGuardian? guardian, string? whyNone) => (this.guardian, WhyNone) = (guardian, whyNone);

    /// <summary>Why a run that heats has no guardian, in a sentence; null when it has one, or does not heat.</summary>
    public string? WhyNone { get; }

    /// <summary>Gives the guardian its signs of life.</summary>
    public ImmutableArray<IRunWatch> Watches => guardian is not null && OperatingSystem.IsLinux() ? [guardian] : [];

    /// <summary>Starts the guardian of a session that heats.</summary>
    /// <param name="files">What the run goes by.</param>
    /// <param name="header">The run.</param>
    /// <param name="link">The line to the controller.</param>
    /// <param name="recordFile">Where the guardian writes down what it did.</param>
    /// <param name="notices">Whom the guardian tells.</param>
    /// <param name="context">The program's surroundings.</param>
    /// <param name="cancel">Ends the attempt.</param>
    public static async Task<HeatGuard> ForAsync(
        RunFiles files, RunHeader header, ILink link, string recordFile, NoticeSettings notices, ProgramContext context, CancellationToken cancel)
    {
        if (!files.Script.Steps.Any(step => step.Heats))
        {
            return new HeatGuard(null, null);
        }

        if (!OperatingSystem.IsLinux() || link is not IInheritable inheritable)
        {
            return new HeatGuard(null, "On this system no second process can hold the port, so nothing would switch the heaters off if this program died.");
        }

        try
        {
            var plan = new GuardianPlan(
                Environment.ProcessId, header.RunId, header.MachineName, link.Name, files.DialectText, recordFile, GuardianPlan.UsualHangSeconds, notices);
            return new HeatGuard(await HeatGuardian.StartAsync(inheritable, plan, context.Time, cancel), null);
        }
        catch (ChildStartException failure)
        {
            return new HeatGuard(null, $"The guardian that would switch the heaters off if this program died could not be started: {failure.Message}");
        }
    }

    /// <summary>From now on a heater may be on because of the run.</summary>
    public void Begin() => hasBegun = true;

    /// <summary>The run has ended. Heaters that the controller did not confirm off are left to the guardian.</summary>
    public async Task EndAsync(RunOutcome outcome)
    {
        hasEnded = true;
        if (guardian is not null && OperatingSystem.IsLinux())
        {
            await guardian.EndAsync(outcome is not (RunOutcome.Halted or RunOutcome.Faulted { Alarm.Length: > 0 }));
        }
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        if (guardian is not null && OperatingSystem.IsLinux())
        {
            if (!hasEnded)
            {
                await guardian.EndAsync(heatersAreOff: !hasBegun);
            }

            await guardian.DisposeAsync();
        }
    }
}
