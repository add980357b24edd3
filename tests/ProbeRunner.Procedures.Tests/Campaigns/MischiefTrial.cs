using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Campaigns;

/// <summary>What came of a mischievous person at a machine.</summary>
/// <param name="Broken">Promises broken, in words; empty when all were kept.</param>
/// <param name="LowestGapMm">Truth: the smallest gap there was; negative in the plate.</param>
/// <param name="Prompts">Questions put.</param>
/// <param name="IsPutToTest">Whether the nozzle came near the bed at all; now and then a series' false alarm ends the run before.</param>
internal sealed record MischiefTrial(ImmutableArray<string> Broken, double LowestGapMm, int Prompts, bool IsPutToTest)
{
    /// <summary>Noise of the touches that a floor rests on, and of the step that a trigger is rounded down to, mm.</summary>
    private const double TouchNoiseMm = 0.02;

    private const double MarginMm = 0.5;
    private const double BeyondContactMm = 0.10;

    private static readonly Dictionary<MischiefWork, RunScript> Scripts = new()
    {
        [MischiefWork.Mark] = Script("""
            [[step]]
            do = "probe-offset"
            """),
        [MischiefWork.StepDown] = Script("""
            [[step]]
            do = "step-down"
            cold = true
            paper_mm = 0.1
            touches = 1
            most_answers = 10
            half_width_mm = 0.03
            [[step]]
            do = "verify"
            """),
        [MischiefWork.Verify] = Script("""
            [[step]]
            do = "verify"
            """),
    };

    /// <summary>Runs a case on virtual time.</summary>
    public static MischiefTrial Of(MischiefCase one) => VirtualTime.Run(async time =>
    {
        await using CampaignMachine machine = await CampaignMachine.StartAsync(time, one.Scenario, one.Profile);
        Truth truth = machine.Host.Truth;
        if (one.MeshMm > 0)
        {
            await StoreMeshAsync(machine, one.MeshMm);
        }

        var broken = new List<string>();
        double contactGap = double.NegativeInfinity;
        (int prompts, int near) = (0, 0);
        var person = new MischievousPerson(one.Person, one.Seed, time, machine.Host, (prompt, answer) =>
        {
            prompts++;
            near += IsNear(prompt.Id) ? 1 : 0;
            contactGap = prompt.HandsClear ? double.NegativeInfinity : contactGap; // lifted before each: another take, another first contact
            if (truth.GapMm < contactGap - BeyondContactMm - 0.004)
            {
                broken.Add(FormattableString.Invariant($"{prompt.Id}: gap {truth.GapMm:0.000}, first contact at {contactGap:0.000}"));
            }

            contactGap = DepthWatch.IsContact(prompt.Id, answer) ? Math.Max(contactGap, truth.GapMm) : contactGap;
        });
        var journal = new PlainJournal((ulong)one.Seed);
        RunOutcome outcome = await new RunEngine(machine.Printer, person, journal, Scripts[one.Work], time, new RunOptions("0.1", Simulated: true)).RunAsync();

        broken.AddRange(DepthWatch.TooDeep(journal.Entries, one.Profile));
        double allowed = one.EnteredDistanceMm + MarginMm - one.Scenario.Probe.TriggerDistanceMm + TouchNoiseMm;
        broken.AddRange(truth.Scratches.Where(scratch => scratch.DepthMm > Math.Max(allowed, 0)).Select(scratch => FormattableString.Invariant($"{scratch.DepthMm:0.000} mm in the plate, {allowed:0.000} allowed")));
        broken.AddRange(truth.Scratches.Where(scratch => scratch.LengthMm > 0).Select(scratch => FormattableString.Invariant($"a scratch {scratch.LengthMm:0.0} mm long")));
        broken.AddRange(truth.IllegalMoves.Select(move => $"illegal move: {move.Kind}"));
        if (outcome is not RunOutcome.Completed)
        {
            broken.Add($"the run ended as {outcome.GetType().Name}: {outcome.Why}");
        }

        return new MischiefTrial([.. broken], truth.LowestGapMm, prompts, near > 0);
    });

    /// <summary>Whether a question is put with the nozzle let down towards the bed.</summary>
    private static bool IsNear(string promptId) =>
        promptId is PromptIds.StepDownPaper or PromptIds.VerifyPaper or PromptIds.VerifyGapFive or PromptIds.ProbeOffsetNozzleAtMark;

    private static async Task StoreMeshAsync(CampaignMachine machine, double halfRangeMm)
    {
        var mesh = machine.Printer.Profile.Mesh;
        await machine.Printer.WriteMeshAsync(
            new MeshNodes(mesh.Area, mesh.Columns, mesh.Rows, [.. Enumerable.Range(0, mesh.Columns * mesh.Rows).Select(node => node % 2 == 0 ? halfRangeMm : -halfRangeMm)]), CancellationToken.None);
        await machine.Printer.SetMeshCorrectionAsync(true, CancellationToken.None);
    }

    private static RunScript Script(string steps) => RunScript.Parse(
        $"""
        title = "mischief"
        [[step]]
        do = "first-lift"
        [[step]]
        do = "home-xy"
        [[step]]
        do = "self-check"
        cycles = 1
        [[step]]
        do = "first-home-z"
        [[step]]
        do = "series"
        {steps}
        """,
        "mischief");
}
