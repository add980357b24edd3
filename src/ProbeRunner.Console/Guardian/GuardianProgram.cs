using System.Globalization;
using System.Runtime.InteropServices;
using System.Runtime.Versioning;
using ProbeRunner.Console.Notices;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.LastResorts;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Transport.Inheritance;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Console.Guardian;

/// <summary>
/// The guardian: a second process that holds the port's descriptor too. While the main process lives and gives signs of life it does
/// nothing at all. When that dies, or hangs and has been ended, it switches the heaters off and reads that back. It moves nothing.
/// </summary>
[SupportedOSPlatform("linux")]
internal sealed class GuardianProgram(Stream told, TextWriter answers, TextWriter messages, TimeProvider time)
{
    /// <summary>The computer itself may have paused: then both were asleep, and the main process needs a moment too.</summary>
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(1);

    /// <summary>The main process has tried for long already.</summary>
    private static readonly TimeSpan PatienceAfterMain = TimeSpan.FromSeconds(20);

    /// <summary>Watches until the run has ended in order, or everything was done that can be.</summary>
    /// <returns>One of <see cref="ExitCodes"/>.</returns>
    public async Task<int> RunAsync()
    {
        // It leads a session of its own; a service manager that stops all of a run's processes must not take it first.
        using var deaf = new SignalsIgnored();
        var life = new MainsLife(told);
        var plan = GuardianPlan.Parse(await life.Plan);
        var dialect = DialectReader.Read(TomlFile.Parse(plan.DialectText, "dialect"));
        answers.WriteLine(GuardianSigns.Ready);
        answers.Flush();
        var fate = await WatchAsync(life, TimeSpan.FromSeconds(plan.HangSeconds));
        if (fate == MainsFate.Ended)
        {
            answers.WriteLine(GuardianSigns.Leaving);
            answers.Flush();
            return ExitCodes.Fit;
        }

        return await TakeOverAsync(plan, dialect, fate);
    }

    private async Task<MainsFate> WatchAsync(MainsLife life, TimeSpan hang)
    {
        while (true)
        {
            var fate = await life.NextAsync(hang, time);
            if (fate == MainsFate.Silent)
            {
                fate = await life.NextAsync(Grace, time);
            }

            if (fate != MainsFate.Alive)
            {
                return fate;
            }
        }
    }

    private async Task<int> TakeOverAsync(GuardianPlan plan, Dialect dialect, MainsFate fate)
    {
        if (fate == MainsFate.Silent)
        {
            ParentProcess.End(plan.MainProcess);
        }

        LastResortReport report;
        try
        {
            await using var link = DescriptorLink.OfInherited(HeirProcess.LinkDescriptor, plan.PortName);
            report = await new LastResort(link, dialect, time).RunAsync(fate == MainsFate.NotConfirmed ? PatienceAfterMain : LastResort.UsualPatience);
        }
        catch (LinkLostException)
        {
            report = new LastResortReport(Sent: false, ConfirmedOff: false, Last: null);
        }

        var what = $"{Cause(fate)} {report.Words} When the machine is well: proberunner resume {plan.RunId}";
        Tell(plan, what);
        var alarm = report.ConfirmedOff ? "" : report.Words;
        await new NoticeSender(plan.Notices, messages, time).SendAsync(
            new Notice("guardian", plan.RunId, plan.MachineName, "faulted", ExitCodes.MachineFailed, what, alarm, time.GetUtcNow()));
        return report.ConfirmedOff ? ExitCodes.Fit : ExitCodes.MachineFailed;
    }

    private static string Cause(MainsFate fate) => fate switch
    {
        MainsFate.Silent => "The program gave no sign of life any more and was ended by its guardian.",
        MainsFate.NotConfirmed => "The run ended without the controller confirming that the heaters are off; the guardian asked once more.",
        _ => "The program ended while a heater could be on.",
    };

    private void Tell(GuardianPlan plan, string what)
    {
        try
        {
            if (plan.RecordFile is { } file)
            {
                Directory.CreateDirectory(Path.GetDirectoryName(file)!);
                File.AppendAllText(file, string.Create(CultureInfo.InvariantCulture, $"{time.GetUtcNow():u} {plan.RunId} {what}\n"));
            }

            messages.WriteLine(what);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // The terminal is gone, or the disk is full: what mattered is done.
        }
    }

    private sealed class SignalsIgnored : IDisposable
    {
        private readonly List<PosixSignalRegistration> registrations =
        [
            .. new[] { PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGINT, PosixSignal.SIGQUIT }
                .Select(signal => PosixSignalRegistration.Create(signal, context => context.Cancel = true)),
        ];

        public void Dispose() => registrations.ForEach(registration => registration.Dispose());
    }
}
