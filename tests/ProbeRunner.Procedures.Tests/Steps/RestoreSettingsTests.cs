using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps.Restoring;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Steps;

public sealed class RestoreSettingsTests
{
    [Fact]
    public void What_a_calibration_changed_is_put_back_and_stored() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        (ProbeOffset offset, MeshNodes mesh) = (bench.Printer.Offset, bench.Printer.Mesh);
        await bench.RunAsync(TestBench.Script("commission"));
        Assert.NotEqual(offset, bench.Printer.StoredOffset);
        RunScript script = RestoreParameters.Of("run-1", bench.Conclusion<PreflightConclusion>(), [.. bench.Journal.Entries]).Script();
        bench.Journal.Entries.Clear();
        bench.Printer.Log.Clear();

        RunOutcome outcome = await bench.RunAsync(script);

        Assert.True(outcome is RunOutcome.Completed { Verdict.State: VerdictWord.Fit }, outcome.Verdict.Reason);
        Assert.Equal(offset, bench.Printer.StoredOffset);
        Assert.Equal(mesh.Heights.ToArray(), bench.Printer.Mesh.Heights.ToArray());
        Assert.DoesNotContain(bench.Printer.Log, verb => verb is "lift" or "home-xy" or "home-z" or "touch" or "height");
    });

    [Fact]
    public void Called_off_it_changes_nothing() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);
        bench.Person.Answers[PromptIds.RestoreConfirm] = "keep";
        ProbeOffset offset = bench.Printer.Offset;

        RunOutcome outcome = await bench.RunAsync(new RestoreParameters("run-1", new ProbeOffset(-38, -9, -1.5), null, SwitchesAsFound.Unknown).Script());

        Assert.Equal(VerdictWord.Undecided, outcome.Verdict.State);
        Assert.Equal(offset, bench.Printer.StoredOffset);
        Assert.Equal(0, bench.Printer.Stores);
        Assert.DoesNotContain("write-offset", bench.Printer.Log);
    });

    [Fact]
    public void Alone_without_a_run_it_is_refused_before_anything_is_sent() => VirtualTime.Run(async time =>
    {
        var bench = new TestBench(time);

        var refused = await Record.ExceptionAsync(() => bench.RunAsync(TestBench.Steps("do = \"preflight\"\nquestions = false", "restore-settings")));

        Assert.Contains("restore RUN", Assert.IsAssignableFrom<Exception>(refused).Message, StringComparison.Ordinal);
        Assert.Empty(bench.Printer.Log);
    });
}
