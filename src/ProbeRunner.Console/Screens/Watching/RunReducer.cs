using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Console.Screens.Pictures.Charts;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>What an event changes in the view of a run.</summary>
internal static class RunReducer
{
    /// <summary>The view after an event.</summary>
    public static RunView After(RunView view, RunEvent told)
    {
        RunView after = told switch
        {
            RunStarted e => (view with { RunId = e.RunId, IsResumed = e.Resumed }).Saying(told, MessageKind.News, e.Resumed ? "The run is taken up again." : "The run begins."),
            StepStarted e => Started(view, e),
            StepRecalled e => Recalled(view, e),
            ReadingTaken e => Counted(view, e.Reading, e.Planned),
            ReadingRecalled e => Counted(view, e.Reading, null),
            ProgressMoved e => view with { Fraction = e.Fraction, TimeLeft = e.TimeLeft },
            PromptAsked e => view with { Asked = e.Prompt },
            AnswerGiven e => view with { Asked = view.Asked?.Id == e.PromptId ? null : view.Asked },
            MachineSeen e => view with { Machine = e.Machine },
            SettingChanged e => (view with { Changes = Bounded(view.Changes.Add(new ChangedSetting(e.Setting, e.Before, e.After)), RunView.MostListed) })
                .Saying(told, MessageKind.Result, $"Changed: {e.Setting} from {e.Before} to {e.After}"),
            VerdictReached e => view.InStep(step => step with { Verdict = e.Verdict })
                .Saying(told, MessageKind.Result, $"{VerdictWords.Sign(e.Verdict.State)} {VerdictWords.Of(e.Verdict.State)}: {e.Verdict.Reason}"),
            FindingReached e => Found(view, e.Finding).Saying(told, MessageKind.Result, $"Finding: {e.Finding.Title}"),
            Remarked e => view.Saying(told, MessageKind.News, e.Text),
            Warned e => view.Saying(told, MessageKind.Caution, e.Text),
            StepEnded e => view.InStep(e.Index, step => step with
            {
                State = StepState.Done,
                Took = e.At - (step.Began ?? e.At),
                Verdict = e.Conclusion.Verdict,
                Conclusion = e.Conclusion,
            }),
            RunEnded e => Ended(view, e),
            _ => view,
        };
        return after.Profile is { } profile && after.Step is { } step && StepPictures.After(step, told, profile, after) is var picture && !ReferenceEquals(picture, step.Picture)
            ? after.InStep(shown => shown with { Picture = picture })
            : after;
    }

    /// <summary>The view with a line more in its log.</summary>
    private static RunView Saying(this RunView view, RunEvent told, MessageKind kind, string text) => view with
    {
        Log = Bounded(view.Log.Add(new Message(view.Written + 1, told.At, kind, text)), RunView.LongestLog),
        Written = view.Written + 1,
    };

    private static RunView InStep(this RunView view, Func<StepView, StepView> change) => view.InStep(view.Current, change);

    private static RunView InStep(this RunView view, int index, Func<StepView, StepView> change) => index >= 0 && index < view.Steps.Length
        ? view with { Steps = view.Steps.SetItem(index, change(view.Steps[index])) }
        : view;

    private static RunView Started(RunView view, StepStarted started)
    {
        for (int index = 0; index < started.Index && index < view.Steps.Length; index++)
        {
            view = view.InStep(index, step => step.State == StepState.Waiting ? step with { State = StepState.LeftOut } : step);
        }

        return (view with { Current = started.Index, Asked = null })
            .InStep(started.Index, step => step with { State = StepState.Running, Began = started.At })
            .Saying(started, MessageKind.News, string.Create(CultureInfo.InvariantCulture, $"Step {started.Index + 1} of {started.Of}: {started.Title}"));
    }

    private static RunView Recalled(RunView view, StepRecalled recalled)
    {
        view = view with { Current = recalled.Index };
        foreach (Finding finding in recalled.Conclusion.Findings)
        {
            view = Found(view, finding);
        }

        return view.InStep(recalled.Index, step => step with { State = StepState.Done, Verdict = recalled.Conclusion.Verdict, Conclusion = recalled.Conclusion });
    }

    private static RunView Counted(RunView view, Reading reading, int? planned) =>
        (view with { LastReadings = Bounded(view.LastReadings.Add(reading), RunView.LastReadingsShown) })
        .InStep(step => step with { Readings = step.Readings + 1, Planned = planned ?? step.Planned });

    private static RunView Found(RunView view, Finding finding) => view.Findings.Any(known => known.Id == finding.Id)
        ? view
        : view with { Findings = Bounded(view.Findings.Add(finding), RunView.MostListed) };

    private static RunView Ended(RunView view, RunEnded ended)
    {
        view = view with { Outcome = ended.Outcome, Asked = null, TimeLeft = null, Fraction = ended.Outcome is RunOutcome.Completed ? 1 : view.Fraction };
        for (int index = 0; index < view.Steps.Length; index++)
        {
            view = view.InStep(index, step => step.State == StepState.Running ? step with { State = StepState.CutOff, Took = ended.At - (step.Began ?? ended.At) } : step);
        }

        view = view.Saying(ended, ended.Outcome is RunOutcome.Completed ? MessageKind.Result : MessageKind.Caution, ended.Outcome.Why);
        return ended.Outcome is RunOutcome.Faulted { Alarm.Length: > 0 } faulted ? view.Saying(ended, MessageKind.Alarm, faulted.Alarm) : view;
    }

    private static ImmutableList<T> Bounded<T>(ImmutableList<T> list, int most) =>
        list.Count > most ? list.RemoveRange(0, list.Count - most) : list;
}
