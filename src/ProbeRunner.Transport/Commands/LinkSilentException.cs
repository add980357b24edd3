using System.Globalization;

namespace ProbeRunner.Transport.Commands;

/// <summary>The controller did not answer in time.</summary>
/// <param name="silence">How long nothing that counts as an answer came.</param>
/// <param name="lastSent">The command that was not answered.</param>
/// <param name="kind">What that command does to the machine.</param>
public sealed class LinkSilentException(TimeSpan silence, string lastSent, CommandKind kind) : IOException(string.Create(
    CultureInfo.InvariantCulture,
    $"The controller has not answered for {silence.TotalSeconds:0.#} s. {Meaning(kind)} Check the cable and the printer, then try again."))
{
    /// <summary>How long nothing that counts as an answer came.</summary>
    public TimeSpan Silence { get; } = silence;

    /// <summary>The command that was not answered.</summary>
    public string LastSent { get; } = lastSent;

    /// <summary>What that command does to the machine.</summary>
    public CommandKind Kind { get; } = kind;

    private static string Meaning(CommandKind kind) => kind switch
    {
        CommandKind.Motion or CommandKind.LongMotion => "The last motion may or may not have been carried out; it was not sent again.",
        CommandKind.Setting or CommandKind.Store => "The last setting may or may not have been taken.",
        _ => "Nothing was changed by the question that it left open.",
    };
}
