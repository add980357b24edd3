using System.Text.Encodings.Web;
using System.Text.Json;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Narration;

/// <summary>Tells a run as one JSON object a line; lengths in mm, times in s since the run began.</summary>
internal sealed class JsonNarrator(TextWriter output) : IRunListener
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.Default,
    };

    private readonly Lock writing = new();
    private int stepIndex;
    private int steps;

    /// <inheritdoc />
    public void On(RunEvent runEvent)
    {
        lock (writing)
        {
            if (Shape(runEvent) is { } shape)
            {
                output.WriteLine(JsonSerializer.Serialize(shape, Options));
                output.Flush();
            }
        }
    }

    /// <summary>Tells the end of the run, once the report is written.</summary>
    public void TellEnd(RunOutcome outcome, int exitCode, string? report)
    {
        lock (writing)
        {
            output.WriteLine(JsonSerializer.Serialize(
                new { @event = "run-ended", state = StateWord(outcome), exitCode, report, why = outcome.Why },
                Options));
            output.Flush();
        }
    }

    private object? Shape(RunEvent runEvent)
    {
        var t = runEvent.At.TotalSeconds;
        switch (runEvent)
        {
            case RunStarted e:
                return new { @event = "run-started", t, run = e.RunId, machine = e.MachineName, script = e.ScriptName, resumed = e.Resumed };
            case StepStarted e:
                stepIndex = e.Index;
                steps = e.Of;
                return new { @event = "step-started", t, step = e.Step, index = e.Index, of = e.Of };
            case ReadingTaken e:
                return new
                {
                    @event = "reading",
                    step = e.Step,
                    index = stepIndex,
                    of = steps,
                    x = e.Reading.Place.X,
                    y = e.Reading.Place.Y,
                    z = e.Reading.Z,
                    repeat = e.Repeat,
                    epoch = e.Reading.DatumEpoch,
                    t,
                    suspect = e.Reading.Suspect,
                };
            case PromptAsked e:
                return new
                {
                    @event = "prompt",
                    t,
                    id = e.Prompt.Id,
                    kind = Word(e.Prompt.Kind.ToString()),
                    text = e.Prompt.Text,
                    choices = e.Prompt.Choices.IsDefault ? [] : e.Prompt.Choices.Select(choice => choice.Word).ToArray(),
                };
            case AnswerGiven e:
                return new { @event = "answer", t, id = e.PromptId, answer = e.Value };
            case SettingChanged e:
                return new { @event = "changed", t, setting = e.Setting, before = e.Before, after = e.After };
            case Nudged e:
                return new { @event = "nudged", t, byMm = e.ByMm, totalMm = e.TotalMm };
            case VerdictReached e:
                return new { @event = "verdict", t, step = e.Step, state = Word(e.Verdict.State.ToString()), confidence = e.Verdict.Confidence, reason = e.Verdict.Reason };
            case FindingReached e:
                return FindingShape(t, e.Finding);
            case Warned e:
                return new { @event = "warning", t, step = e.Step, text = e.Text };
            case ProgressMoved e:
                return new { @event = "progress", t, step = e.Step, fraction = e.Fraction, timeLeft = e.TimeLeft?.TotalSeconds };
            case StepEnded e:
                return new { @event = "step-ended", t, step = e.Step, index = e.Index };
            default:
                return null;
        }
    }

    private static object FindingShape(double t, Finding finding) => new
    {
        @event = "finding",
        t,
        id = finding.Id,
        title = finding.Title,
        effectMm = finding.EffectMm,
        where = finding.Where,
        confidence = finding.Confidence,
        evidence = finding.Evidence,
        next = finding.Next,
    };

    private static string StateWord(RunOutcome outcome) => outcome switch
    {
        RunOutcome.Completed => "completed",
        RunOutcome.Stopped => "stopped",
        RunOutcome.Halted => "halted",
        _ => "faulted",
    };

    private static string Word(string name) => JsonNamingPolicy.CamelCase.ConvertName(name);
}
