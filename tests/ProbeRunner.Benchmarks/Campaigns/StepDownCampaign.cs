using System.Diagnostics;
using ProbeRunner.Campaigns;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>How near the step-down comes to the true offset, averaged over homings, and what it costs a person.</summary>
internal static class StepDownCampaign
{
    private const double PromisedMm = 0.015;
    private const double PersonMm = 0.02;

    /// <summary>Runs so many step-downs, one after another.</summary>
    internal static void Run(TextWriter output, int seeds)
    {
        var watch = Stopwatch.StartNew();
        List<StepDownTrial> all = [.. Enumerable.Range(0, seeds).Select(StepDownTrial.Of)];
        List<StepDownTrial> written = [.. all.Where(trial => double.IsFinite(trial.ErrorMm))];
        foreach (StepDownTrial trial in all.Where(trial => !double.IsFinite(trial.ErrorMm)))
        {
            output.WriteLine($"not written: {trial.Why}");
        }

        double[] errors = [.. written.Select(trial => Math.Abs(trial.ErrorMm)).Order()];
        output.WriteLine(FormattableString.Invariant(
            $"{seeds} step-downs, {written.Count} written; within {PromisedMm:0.000} mm: {(double)errors.Count(error => error <= PromisedMm) / seeds:0.000} of all"));
        output.WriteLine(FormattableString.Invariant(
            $"error: median {At(errors, 0.5):0.0000} mm, 95 % {At(errors, 0.95):0.0000} mm, bias {written.Average(trial => trial.ErrorMm):+0.0000;-0.0000} mm; within twice its stated uncertainty: {(double)written.Count(trial => Math.Abs(trial.ErrorMm) <= 2 * trial.StandardUncertaintyMm) / written.Count:0.000}, median of that {At([.. written.Select(trial => trial.StandardUncertaintyMm).Order()], 0.5):0.0000} mm"));
        output.WriteLine(FormattableString.Invariant(
            $"paper prompts: median {At([.. all.Select(trial => (double)trial.PaperPrompts).Order()], 0.5):0}, 95 % {At([.. all.Select(trial => (double)trial.PaperPrompts).Order()], 0.95):0}; all prompts of the step: median {At([.. all.Select(trial => (double)trial.Prompts).Order()], 0.5):0}"));
        List<StepDownTrial> judged = [.. written.Where(trial => trial.Person is not null)];
        output.WriteLine(FormattableString.Invariant(
            $"person's sd, truth {PersonMm:0.000}: median {At([.. judged.Select(trial => trial.Person!.SigmaMm).Order()], 0.5):0.0000} mm; in its 95 % interval: {(double)judged.Count(trial => trial.Person!.LowerMm <= PersonMm && PersonMm <= trial.Person.UpperMm) / judged.Count:0.000}"));
        output.WriteLine(FormattableString.Invariant(
            $"virtual time of the step: median {At([.. all.Select(trial => trial.Seconds).Order()], 0.5):0} s, soak included; {watch.Elapsed.TotalSeconds:0} s real"));
    }

    private static double At(double[] ordered, double share) => ordered.Length == 0 ? double.NaN : ordered[(int)Math.Min(ordered.Length - 1, share * ordered.Length)];
}
