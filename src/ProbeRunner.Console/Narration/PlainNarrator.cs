using System.Globalization;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Transport.Framing;

namespace ProbeRunner.Console.Narration;

/// <summary>Tells a run in plain lines: results on one writer, news and progress on the other.</summary>
/// <param name="results">Readings, verdicts and findings.</param>
/// <param name="news">Steps, progress, warnings.</param>
/// <param name="clockFactor">How much faster than the wall clock the run's clock goes; 1 for a real machine.</param>
/// <param name="asksPerson">Whether a person reads the questions here; a simulated one does not.</param>
internal sealed class PlainNarrator(TextWriter results, TextWriter news, double clockFactor, bool asksPerson) : IRunListener
{
    private const double ProgressStep = 0.1;
    private readonly Lock writing = new();
    private double nextProgress = ProgressStep;

    /// <inheritdoc />
    public void On(RunEvent runEvent)
    {
        lock (writing)
        {
            Tell(runEvent);
        }
    }

    private void Tell(RunEvent runEvent)
    {
        switch (runEvent)
        {
            case RunStarted started:
                News($"Run {started.RunId}: {started.ScriptName} on {started.MachineName}{(started.Resumed ? ", taken up again" : "")}");
                break;
            case StepStarted step:
                News("");
                News(string.Create(CultureInfo.InvariantCulture, $"[{step.Index + 1,2}/{step.Of}] {step.Title}"));
                break;
            case Remarked remark:
                News($"        {remark.Text}");
                break;
            case Warned warning:
                News($"        CAUTION: {warning.Text}");
                break;
            case SettingChanged changed:
                News($"        changed: {changed.Setting} from {changed.Before} to {changed.After}");
                break;
            case Nudged nudged:
                News(string.Create(CultureInfo.InvariantCulture, $"        nudged {(nudged.ByMm < 0 ? "closer" : "farther")}: {nudged.ByMm:+0.000;-0.000} mm, {nudged.TotalMm:+0.000;-0.000;0.000} mm in all"));
                break;
            case PromptAsked asked when asksPerson:
                foreach (var line in PromptText.Lines(asked.Prompt))
                {
                    news.WriteLine(line);
                }

                news.Flush();
                break;
            case ReadingTaken reading:
                Result(ReadingLine(reading));
                break;
            case VerdictReached verdict:
                Result($"        {VerdictWords(verdict.Verdict)}: {verdict.Verdict.Reason}");
                break;
            case FindingReached finding:
                Result($"        finding: {finding.Finding.Title}");
                Result($"                 {finding.Finding.Evidence}");
                Result($"                 next: {finding.Finding.Next}");
                break;
            case ProgressMoved progress:
                TellProgress(progress);
                break;
            case RunEnded ended:
                TellEnd(ended.Outcome);
                break;
        }
    }

    private void TellProgress(ProgressMoved progress)
    {
        if (progress.Fraction < nextProgress)
        {
            return;
        }

        nextProgress = (Math.Floor(progress.Fraction / ProgressStep) * ProgressStep) + ProgressStep;
        var left = progress.TimeLeft is { } time ? $", about {Spoken(time / clockFactor)} left" : "";
        News(string.Create(CultureInfo.InvariantCulture, $"        -- {progress.Fraction * 100:0} % done{left} --"));
    }

    private void TellEnd(RunOutcome outcome)
    {
        News("");
        Result($"{OutcomeWords(outcome)}. {outcome.Why}");
        Result($"Verdict: {VerdictWords(outcome.Verdict)}. {outcome.Verdict.Reason}");
        if (outcome is RunOutcome.Faulted { Alarm.Length: > 0 } faulted)
        {
            News($"ALARM: {faulted.Alarm}");
        }
    }

    private static string ReadingLine(ReadingTaken taken)
    {
        var of = taken.Planned is { } planned ? string.Create(CultureInfo.InvariantCulture, $"/{planned}") : "";
        var number = string.Create(CultureInfo.InvariantCulture, $"{taken.Number}{of}");
        return string.Create(
            CultureInfo.InvariantCulture,
            $"        reading {number,-8} x {taken.Reading.Place.X,6:0.0}  y {taken.Reading.Place.Y,6:0.0}  z {taken.Reading.Z,8:+0.0000;-0.0000; 0.0000} mm{(taken.Reading.Suspect ? "  (confirmed by a second touch)" : "")}");
    }

    private static string VerdictWords(StepVerdict verdict) => verdict.State switch
    {
        VerdictWord.Fit => string.Create(CultureInfo.InvariantCulture, $"fit ({verdict.Confidence * 100:0.#} % sure)"),
        VerdictWord.NotFit => string.Create(CultureInfo.InvariantCulture, $"NOT FIT ({verdict.Confidence * 100:0.#} % sure)"),
        _ => "undecided",
    };

    private static string OutcomeWords(RunOutcome outcome) => outcome switch
    {
        RunOutcome.Completed => "Done",
        RunOutcome.Stopped => "Stopped",
        RunOutcome.Halted => "HALTED",
        _ => "FAILED",
    };

    private static string Spoken(TimeSpan time) => time.TotalSeconds switch
    {
        < 90 => string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, Math.Ceiling(time.TotalSeconds)):0} s"),
        < 5400 => string.Create(CultureInfo.InvariantCulture, $"{time.TotalMinutes:0} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{time.TotalHours:0.0} h"),
    };

    private void Result(string line) => results.WriteLine(WireText.Printable(line));

    private void News(string line) => news.WriteLine(WireText.Printable(line));
}
