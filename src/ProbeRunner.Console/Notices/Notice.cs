using System.Text.Encodings.Web;
using System.Text.Json;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Console.Notices;

/// <summary>What is told to somebody who is not there.</summary>
/// <param name="Event">"ended", "stopped", "needs-person" or "guardian".</param>
/// <param name="Run">The run.</param>
/// <param name="Machine">The machine.</param>
/// <param name="State">"completed", "stopped", "halted", "faulted"; "running" when a person is needed.</param>
/// <param name="ExitCode">Of the run; null while it runs.</param>
/// <param name="Text">What happened, what it means, what to do.</param>
/// <param name="Alarm">What must be done about the machine at once; empty when it is safe.</param>
/// <param name="At">By the wall clock.</param>
internal sealed record Notice(string Event, string Run, string Machine, string State, int? ExitCode, string Text, string Alarm, DateTimeOffset At)
{
    private static readonly JsonSerializerOptions Options = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase, Encoder = JavaScriptEncoder.Default };

    /// <summary>A run has ended.</summary>
    public static Notice OfEnd(string run, string machine, RunOutcome outcome, DateTimeOffset at) => new(
        outcome is RunOutcome.Completed ? "ended" : "stopped",
        run,
        machine,
        outcome switch { RunOutcome.Completed => "completed", RunOutcome.Stopped => "stopped", RunOutcome.Halted => "halted", _ => "faulted" },
        ExitCodes.Of(outcome),
        outcome.Why,
        outcome is RunOutcome.Faulted faulted ? faulted.Alarm : "",
        at);

    /// <summary>The JSON body.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Options);
}
