using System.Text.Json;
using ProbeRunner.Console.Notices;

namespace ProbeRunner.Console.Guardian;

/// <summary>What the guardian is told at its start: everything it needs, so that it asks nothing of a file when it matters.</summary>
/// <param name="MainProcess">The process it watches over.</param>
/// <param name="RunId">Its run.</param>
/// <param name="MachineName">The machine, for the notice.</param>
/// <param name="PortName">What a person calls the port.</param>
/// <param name="DialectText">What the controller understands.</param>
/// <param name="RecordFile">Where it writes down what it did; null for nowhere.</param>
/// <param name="HangSeconds">How long the main process may give no sign of life.</param>
/// <param name="Notices">Whom to tell that it had to act.</param>
internal sealed record GuardianPlan(
    int MainProcess, string RunId, string MachineName, string PortName, string DialectText, string? RecordFile, double HangSeconds, NoticeSettings Notices)
{
    /// <summary>
    /// Longer than a busy computer pauses a program, short enough that the heaters are off ten seconds after a hang began: six seconds of
    /// silence, one of grace, and the sending.
    /// </summary>
    public const double UsualHangSeconds = 6;

    /// <summary>As one line.</summary>
    public string ToLine() => JsonSerializer.Serialize(this);

    /// <summary>Reads it back.</summary>
    /// <exception cref="JsonException">It is no plan.</exception>
    public static GuardianPlan Parse(string line) => JsonSerializer.Deserialize<GuardianPlan>(line) ?? throw new JsonException("An empty plan.");
}
