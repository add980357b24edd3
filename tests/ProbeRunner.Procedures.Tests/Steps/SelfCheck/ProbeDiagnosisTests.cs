using System.Collections.Immutable;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Steps.SelfCheck;

namespace ProbeRunner.Procedures.Tests.Steps.SelfCheck;

/// <summary>The table of symptoms: common practice, no source.</summary>
public sealed class ProbeDiagnosisTests
{
    [Theory]
    [InlineData("ooo", "ttt", "ooo", true, ProbeCondition.Healthy)]
    [InlineData("ooo", "", "", null, ProbeCondition.Healthy)] // nothing speaks against it yet
    [InlineData("ooo", "ooo", "ooo", null, ProbeCondition.Dead)]
    [InlineData("ttt", "ttt", "ttt", null, ProbeCondition.Stuck)]
    [InlineData("ttt", "", "", null, ProbeCondition.Stuck)]
    [InlineData("ttt", "ooo", "ttt", null, ProbeCondition.Reversed)]
    [InlineData("oto", "ttt", "ooo", null, ProbeCondition.Flickering)]
    [InlineData("ooo", "tot", "ooo", null, ProbeCondition.Flickering)]
    [InlineData("ooo", "ttt", "oto", null, ProbeCondition.Flickering)]
    [InlineData("ooo", "ttt", "ttt", null, ProbeCondition.Sticks)]
    [InlineData("ooo", "ttt", "ooo", false, ProbeCondition.NotHeeded)]
    [InlineData("uuu", "uuu", "uuu", true, ProbeCondition.NotReported)]
    [InlineData("uuu", "uuu", "uuu", false, ProbeCondition.Dead)]
    [InlineData("ouo", "tut", "ooo", true, ProbeCondition.Healthy)] // a look that could not be read says nothing
    public void Each_set_of_symptoms_has_its_own_condition(string free, string pushed, string letGo, bool? stopped, ProbeCondition expected) =>
        Assert.Equal(expected, ProbeDiagnosis.Of(Symptoms(free, pushed, letGo) with { StoppedDescent = stopped }));

    [Fact]
    public void A_probe_that_did_not_move_is_not_judged_by_its_switch()
    {
        ProbeSymptoms healthy = Symptoms("ooo", "ttt", "ooo");

        Assert.Equal(ProbeCondition.DoesNotMove, ProbeDiagnosis.Of(healthy with { FailedToMove = 1 }));
        Assert.Equal(ProbeCondition.DoesNotMove, ProbeDiagnosis.Of(healthy with { SeenMoving = false }));
    }

    [Theory]
    [InlineData(null, ProbeCondition.Healthy)]
    [InlineData(true, ProbeCondition.Healthy)]
    [InlineData(false, ProbeCondition.Dead)]
    public void A_pin_that_pulls_itself_in_is_decided_by_the_descent(bool? stopped, ProbeCondition expected) =>
        Assert.Equal(expected, ProbeDiagnosis.Of(Symptoms("ooo", "ooo", "ooo") with { PulledItselfIn = true, StoppedDescent = stopped }));

    [Fact]
    public void An_alarm_after_a_push_that_can_be_cleared_is_no_fault()
    {
        ProbeSymptoms alarmed = Symptoms("ooo", "ttt", "ttt");
        ProbeSymptoms cleared = alarmed with { Looks = alarmed.Looks.Add(new ProbeLook(LookMoment.Cleared, ProbeState.Open)) };

        Assert.Equal(ProbeCondition.Healthy, ProbeDiagnosis.Of(cleared));
    }

    [Fact]
    public void Every_condition_but_healthy_has_a_next_thing_to_do_of_its_own()
    {
        ProbeCondition[] ill = [.. Enum.GetValues<ProbeCondition>().Where(condition => condition != ProbeCondition.Healthy)];
        Finding[] findings = [.. ill.Select(condition => ProbeFindings.For(condition, Symptoms("oto", "ttt", "ooo"), "")!)];

        Assert.Null(ProbeFindings.For(ProbeCondition.Healthy, Symptoms("o", "t", "o"), ""));
        Assert.Equal(ill.Length, findings.Select(finding => finding.Id).Distinct().Count());
        Assert.Equal(ill.Length, findings.Select(finding => finding.Next).Distinct().Count());
        Assert.All(findings, finding => Assert.Contains("out: open 2 times, triggered 1 times", finding.Evidence, StringComparison.Ordinal));
    }

    private static ProbeSymptoms Symptoms(string free, string pushed, string letGo) => new(
    [
        .. Looks(LookMoment.Out, free), .. Looks(LookMoment.Pushed, pushed), .. Looks(LookMoment.LetGo, letGo),
    ]);

    private static ImmutableArray<ProbeLook> Looks(LookMoment moment, string states) =>
        [.. states.Select(state => new ProbeLook(moment, state switch { 't' => ProbeState.Triggered, 'o' => ProbeState.Open, _ => ProbeState.Unknown }))];
}
