using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Campaigns;

/// <summary>
/// One hot, soaked step-down on the good machine with the person, paper and homing that the project's promise names: home sd 0.003, person's sd
/// 0.02, paper known to 0.003 mm.
/// </summary>
/// <param name="ErrorMm">Offset found minus the true one averaged over homings, mm; NaN when none was written.</param>
/// <param name="StandardUncertaintyMm">As stated.</param>
/// <param name="Person">The person's repeatability, as stated; null when not.</param>
/// <param name="PaperPrompts">Answers about the paper.</param>
/// <param name="Prompts">All questions of the step.</param>
/// <param name="Seconds">The step's time on the virtual clock, soak included.</param>
/// <param name="Why">The verdict's reason.</param>
internal sealed record StepDownTrial(
    double ErrorMm, double StandardUncertaintyMm, PersonScatter? Person, int PaperPrompts, int Prompts, double Seconds, string Why)
{
    private const double PaperMm = 0.1;
    private const double PaperHalfWidthMm = 0.003;
    private static readonly Scenario Good = ScenarioFile.Load("good");

    private static readonly RunScript Script = RunScript.ForStep("step-down", ["paper_mm=0.1", "paper_half_width_mm=0.003"]);

    /// <summary>Runs one.</summary>
    /// <param name="seed">Of everything.</param>
    public static StepDownTrial Of(int seed) => VirtualTime.Run(async time =>
    {
        var chance = new Random(seed);
        Scenario scenario = Good with
        {
            Seed = (ulong)seed + 1000,
            Probe = Good.Probe with { HomingSdMm = 0.003 },
            Person = Good.Person with { FeelSdMm = 0.02, PaperMm = PaperMm + (PaperHalfWidthMm * ((2 * chance.NextDouble()) - 1)) },
        };
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, scenario);
        var person = new HonestPerson(time, machine.Host);
        var journal = new PlainJournal((ulong)seed + 1);
        RunOutcome outcome = await new RunEngine(machine.Printer, person, journal, Script, time, new RunOptions("0.1", Simulated: true)).RunAsync();
        StepDownConclusion? found = journal.Conclusion<StepDownConclusion>();

        // A homing stops on the step below the trigger: on average half a step lower than without steps.
        double truth = -(person.TriggerDistanceMm - (1 / scenario.Travel.StepsPerMmZ / 2));
        bool written = found is { Verdict.State: VerdictWord.Fit };
        return new StepDownTrial(
            written ? found!.OffsetMm - truth : double.NaN,
            found?.StandardUncertaintyMm ?? double.NaN,
            found?.Person,
            person.PaperPrompts,
            person.Prompts,
            (person.Ended - person.Began).TotalSeconds,
            found?.Verdict.Reason ?? outcome.Why);
    });

    /// <summary>Does as told and says what is felt; watches what the true distance is while the test goes on.</summary>
    private sealed class HonestPerson(VirtualTime time, SimulatedPrinterHost host) : IOperator
    {
        public bool IsPresent => true;

        public int PaperPrompts { get; private set; }

        public int Prompts { get; private set; }

        public TimeSpan Began { get; private set; }

        public TimeSpan Ended { get; private set; }

        public double TriggerDistanceMm { get; private set; } = double.NaN;

        public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
        {
            if (prompt.Id.StartsWith("step-down.", StringComparison.Ordinal))
            {
                Began = Prompts++ == 0 ? time.Elapsed : Began;
                Ended = time.Elapsed;
                PaperPrompts += prompt.Id == PromptIds.StepDownPaper ? 1 : 0;
                TriggerDistanceMm = prompt.Id == PromptIds.StepDownPaper ? Distance(host.Truth) : TriggerDistanceMm;
            }

            await Task.Delay(TimeSpan.FromSeconds(3), time, cancel);
            await SenseAsync(prompt.HandsClear ? "paper out" : prompt.Id switch
            {
                PromptIds.SelfCheckPush => "finger next-descent",
                PromptIds.SelfCheckHold => "finger on",
                PromptIds.SelfCheckLetGo => "finger off",
                PromptIds.StepDownWipe => "wipe nozzle",
                PromptIds.StepDownPaperIn => "paper in",
                _ => "look gap",
            });
            return new Answer(prompt.Id switch
            {
                PromptIds.StepDownPaper => await SenseAsync("feel"),
                _ when prompt.Kind == PromptKind.Acknowledge => Answer.Continue,
                _ => PromptIds.WhenAllIsWell[prompt.Id],
            });

            Task<string> SenseAsync(string question) => host.AskAsync(question, cancel);
        }

        private static double Distance(Truth truth) => truth.TriggerDistanceAt(120, 120);
    }
}
