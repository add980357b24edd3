using ProbeRunner.Console.Simulation;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Store;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Console.Commands;

/// <summary>What a failure is to the person: a sentence and an exit code.</summary>
/// <param name="Message">What happened, what it means, what to do.</param>
/// <param name="ExitCode">One of <see cref="ExitCodes"/>.</param>
internal sealed record Failure(string Message, int ExitCode);

/// <summary>Tells which exceptions are a person's or a machine's business, and how each is said. Others are errors of ours and are not hidden.</summary>
internal static class Failures
{
    /// <summary>The failure as a person should read it; null when it is an error of the program.</summary>
    public static Failure? Explain(Exception failure) => failure switch
    {
        UsageException usage => new Failure(usage.Message, ExitCodes.BadInput),
        Machine.Heat.HeatRefusedException heat => new Failure(heat.Message, ExitCodes.BadInput),
        FileFaultException file => new Failure(file.Message, ExitCodes.BadInput),
        SimulatorFailedException simulator => new Failure(simulator.Message, ExitCodes.BadInput),
        FileNotFoundException or DirectoryNotFoundException => new Failure(failure.Message, ExitCodes.BadInput),
        ScriptRefusedException script => new Failure(script.Message, ExitCodes.BadInput),
        ResumeRefusedException resume => new Failure(resume.Message, ExitCodes.BadInput),
        StoreUnusableException store => new Failure(store.Message, ExitCodes.BadInput),
        PortOpenException port => new Failure(port.Message, ExitCodes.BadInput),
        LinkSilentException or ControllerResetException or ControllerHaltedException or LineRefusedException =>
            new Failure(failure.Message, ExitCodes.MachineFailed),
        MachineException machine => new Failure(machine.Message, ExitCodes.MachineFailed),
        LinkLostException link => new Failure(link.Message, ExitCodes.MachineFailed),
        JournalDamagedException journal => new Failure(journal.Message, ExitCodes.BadInput),
        JournalFailedException journal => new Failure(journal.Message, ExitCodes.MachineFailed),
        _ => null,
    };
}

/// <summary>The command line asks for something that cannot be done as asked; nothing moved.</summary>
internal sealed class UsageException(string message) : Exception(message);
