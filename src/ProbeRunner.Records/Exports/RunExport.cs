using System.Collections.Immutable;
using System.Text;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Records.Exports;

/// <summary>
/// A run as tables for other programs: <c>readings.csv</c>, <c>prompts.csv</c>, <c>settings.csv</c>, <c>conclusions.csv</c> and
/// <c>journal.csv</c>, comma-separated by RFC 4180, UTF-8, lengths in mm, times in s since the run began; and <c>run.jsonl</c>, which a store can take back.
/// </summary>
public static class RunExport
{
    /// <summary>Writes the tables into a folder, making it when it is missing.</summary>
    /// <returns>The files written.</returns>
    /// <exception cref="IOException">The folder or a file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">Writing there is not allowed.</exception>
    public static ImmutableArray<string> Write(RunRecord run, string folder)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentException.ThrowIfNullOrEmpty(folder);
        Directory.CreateDirectory(folder);
        (string Name, string Text)[] tables =
        [
            ("readings.csv", Readings(run)),
            ("prompts.csv", Prompts(run)),
            ("settings.csv", Settings(run)),
            ("conclusions.csv", Conclusions(run)),
            ("journal.csv", Journal(run)),
            (RunFile.Name, RunFile.Write(run)),
        ];
        return
        [
            .. tables.Select(table =>
            {
                string path = Path.Combine(folder, table.Name);
                File.WriteAllText(path, table.Text, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false));
                return path;
            }),
        ];
    }

    /// <summary>Every touch; <c>voided</c> is 1 where it was taken again and counts no longer.</summary>
    internal static string Readings(RunRecord run)
    {
        var table = new CsvText("ordinal", "t", "step", "step_name", "section", "x", "y", "z", "epoch", "taken_at", "suspect", "voided");
        foreach (StepRecord step in run.Steps)
        {
            foreach (ReadingRecord item in step.Readings)
            {
                table.Add(item.Ordinal).Add(item.At.TotalSeconds).Add(step.Index).Add(step.Name).Add(item.Section)
                    .Add(item.Reading.Place.X).Add(item.Reading.Place.Y).Add(item.Reading.Z).Add(item.Reading.DatumEpoch)
                    .Add(item.Reading.At).Add(item.Reading.Suspect).Add(item.Voided).EndLine();
            }
        }

        return table.ToString();
    }

    /// <summary>Every question with its answer.</summary>
    internal static string Prompts(RunRecord run)
    {
        var table = new CsvText("ordinal", "t", "step", "id", "question", "answer");
        foreach (PromptRecord item in run.Prompts)
        {
            table.Add(item.Ordinal).Add(item.At.TotalSeconds).Add(item.StepIndex).Add(item.Prompt.Id).Add(item.Prompt.Text).Add(item.Answer).EndLine();
        }

        return table.ToString();
    }

    /// <summary>Every setting that was changed.</summary>
    internal static string Settings(RunRecord run)
    {
        var table = new CsvText("ordinal", "t", "step", "setting", "before", "after");
        foreach (ChangeRecord item in run.Changes)
        {
            table.Add(item.Ordinal).Add(item.At.TotalSeconds).Add(item.StepIndex)
                .Add(item.Change.Setting).Add(item.Change.Before).Add(item.Change.After).EndLine();
        }

        return table.ToString();
    }

    /// <summary>Each step's verdict, and a line for each of its findings.</summary>
    internal static string Conclusions(RunRecord run)
    {
        var table = new CsvText("step", "step_name", "what", "id", "state", "confidence", "effect", "where", "text", "evidence", "next");
        foreach (StepRecord step in run.Steps.Where(step => step.Conclusion is not null))
        {
            StepVerdict verdict = step.Conclusion!.Verdict;
            table.Add(step.Index).Add(step.Name).Add("verdict").Add(string.Empty).Add(JournalJson.Write(verdict.State).Trim('"'))
                .Add(verdict.Confidence).Add((double?)null).Add(string.Empty).Add(verdict.Reason).Add(string.Empty).Add(string.Empty).EndLine();
            foreach (Finding finding in step.Conclusion.Findings)
            {
                table.Add(step.Index).Add(step.Name).Add("finding").Add(finding.Id).Add(string.Empty)
                    .Add(finding.Confidence).Add(finding.EffectMm).Add(finding.Where).Add(finding.Title).Add(finding.Evidence).Add(finding.Next).EndLine();
            }
        }

        return table.ToString();
    }

    /// <summary>The journal row by row, with its payloads as JSON.</summary>
    internal static string Journal(RunRecord run)
    {
        var table = new CsvText("ordinal", "t", "kind", "step", "section", "request", "reply");
        foreach (JournalEntry entry in run.Entries)
        {
            table.Add(entry.Ordinal).Add(entry.At.TotalSeconds).Add(entry.Kind.ToString()).Add(entry.StepIndex)
                .Add(entry.Section).Add(entry.Request).Add(entry.Reply).EndLine();
        }

        return table.ToString();
    }
}
