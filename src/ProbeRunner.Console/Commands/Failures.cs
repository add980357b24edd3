using ProbeRunner.Console.Simulation;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Journal;
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
        FileFaultException file => new Failure(file.Message, ExitCodes.BadInput),
        SimulatorFailedException simulator => new Failure(simulator.Message, ExitCodes.BadInput),
        FileNotFoundException or DirectoryNotFoundException => new Failure(failure.Message, ExitCodes.BadInput),
        LinkLostException link => new Failure(link.Message, ExitCodes.MachineFailed),
        JournalDamagedException journal => new Failure(journal.Message, ExitCodes.BadInput),
        JournalFailedException journal => new Failure(journal.Message, ExitCodes.MachineFailed),
        _ => null,
    };
}

/// <summary>The command line asks for something that cannot be done as asked; nothing moved.</summary>
internal sealed class UsageException(string message) : Exception(message);
