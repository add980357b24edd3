using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.EndToEnd.Tests.Commission;

/// <summary>Each step of one whole calibration over the wire, beside what the simulated machine truly is.</summary>
public sealed class WholeCalibrationTests(WholeCalibration whole) : IClassFixture<WholeCalibration>
{
    private const double OffsetToleranceMm = 0.015;

    [Fact]
    public void It_ends_fit_cold_and_without_a_scratch()
    {
        Assert.True(whole.ExitCode == 0, whole.Said);
        Assert.Equal((0.0, 0.0), whole.Truth.HeaterTargets);
        Assert.Empty(whole.Truth.IllegalMoves);
        Assert.All(whole.Truth.Scratches, scratch => Assert.True(scratch.DepthMm <= 0.10, $"{scratch.DepthMm:0.000} mm"));
        Assert.All(whole.Record.Steps, step => Assert.True(step.Conclusion?.Verdict.State == VerdictWord.Fit, $"{step.Name}: {step.Conclusion?.Verdict.Reason}"));
    }

    [Fact]
    public void Preflight_recorded_the_offset_as_it_was() =>
        Assert.Equal(whole.Scenario.Controller.StoredOffsetZ, whole.Of<PreflightConclusion>().OffsetBefore.Z, 9);

    [Fact]
    public void The_heaters_tried_ended_off() =>
        Assert.All(whole.Of<HeaterTrialConclusion>().Heaters, heater => Assert.Equal(0, heater.TargetAfterCelsius));

    [Fact]
    public void The_probe_was_found_healthy_and_a_finger_stopped_its_descent() =>
        Assert.Equal(("healthy", true), (whole.Of<SelfCheckConclusion>().Condition, whole.Of<SelfCheckConclusion>().TriggerStoppedDescent));

    [Fact]
    public void The_probe_s_place_is_known_to_half_a_millimetre()
    {
        var found = whole.Of<XyOffsetConclusion>().After;
        Assert.Equal(whole.Scenario.Probe.OffsetX, found.X, 0.5);
        Assert.Equal(whole.Scenario.Probe.OffsetY, found.Y, 0.5);
    }

    [Fact]
    public void The_series_interval_holds_the_probe_s_true_scatter()
    {
        var (series, probe) = (whole.Of<SeriesConclusion>(), whole.Scenario.Probe);
        Assert.InRange(Math.Sqrt((probe.TouchSdMm * probe.TouchSdMm) + (probe.ExtensionSdMm * probe.ExtensionSdMm)), series.SigmaLowerMm, series.SigmaUpperMm);
    }

    [Fact]
    public void The_step_down_found_the_true_offset()
    {
        // A homing stops on the step below the trigger: on average half a step lower than without steps.
        var truth = -whole.FeltAt(PromptIds.StepDownPaper).Average(felt => felt.TriggerDistance) + (0.5 / whole.Scenario.Travel.StepsPerMmZ);
        Assert.Equal(truth, whole.Of<StepDownConclusion>().OffsetMm, OffsetToleranceMm);
    }

    [Fact]
    public void The_readings_of_the_grid_are_the_touches_that_were()
    {
        var capture = whole.Of<CaptureConclusion>();
        var noise = 4.5 * Math.Sqrt(Math.Pow(whole.Scenario.Probe.TouchSdMm, 2) + Math.Pow(whole.Scenario.Probe.ExtensionSdMm, 2));
        Assert.All(whole.Record.Steps.Single(step => step.Name == "grid").Readings, one =>
        {
            var reading = one.Reading;
            var nearest = whole.Truth.Touches.Where(touch => !touch.ByHoming).MinBy(touch => Math.Abs(touch.MeasuredZ - reading.Z) + Math.Abs(touch.X - reading.Place.X) + Math.Abs(touch.Y - reading.Place.Y));
            Assert.Equal(nearest.TrueZ, reading.Z, noise + (1 / whole.Scenario.Travel.StepsPerMmZ));
            Assert.InRange(Math.Abs(nearest.X - reading.Place.X) + Math.Abs(nearest.Y - reading.Place.Y), 0, 1);
        });
        Assert.True(capture.Readings.Length >= 30);
    }

    [Fact]
    public void The_mesh_is_the_hot_bed_and_the_controller_has_it()
    {
        var mesh = whole.Of<MeshConclusion>();
        Assert.Equal(mesh.Wanted.Heights, whole.Meshes.Calibrated, (wanted, has) => Math.Abs(wanted - has) <= 0.001);
        var error = Math.Sqrt(whole.HotNodes.Zip(mesh.Wanted.Heights, (truth, node) => (truth - node) * (truth - node)).Average());
        Assert.True(error <= 0.02, $"the nodes are {error:0.000} mm off on average");
    }

    [Fact]
    public void The_verification_felt_the_paper_where_it_truly_is()
    {
        var truth = whole.FeltAt(PromptIds.VerifyPaper).Last().Contact + whole.Scenario.Person.PaperMm;
        Assert.Equal(truth, whole.Of<VerifyConclusion>().PaperHeightMm, 0.05);
    }

    [Fact]
    public void The_first_layer_s_correction_is_the_one_that_the_bed_wanted()
    {
        var layer = whole.Of<FirstLayerConclusion>();
        Assert.Equal(whole.WantedCorrections.Average(), layer.CorrectionMm, 0.01);
        Assert.InRange(whole.WantedCorrections.Average(), layer.LowerMm, layer.UpperMm);
        Assert.Equal(["gaps", "good", "ridges"], layer.Patches.Select(patch => patch.Look).Distinct().Order(StringComparer.Ordinal));
        Assert.Contains("First-layer check", whole.Report, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_found_is_stored_and_restore_puts_back_what_was_there_before()
    {
        var (found, correction) = (whole.Of<StepDownConclusion>().OffsetMm, whole.Of<FirstLayerConclusion>().CorrectionMm);
        Assert.Equal(whole.Offsets.Calibrated.Live, whole.Offsets.Calibrated.Stored, 9);
        Assert.Equal(found + correction, whole.Offsets.Calibrated.Stored, 0.011);
        Assert.Equal((whole.Scenario.Controller.StoredOffsetZ, whole.Scenario.Controller.StoredOffsetZ), whole.Offsets.Restored);
        Assert.All(whole.Meshes.Restored, node => Assert.Equal(0, node));
    }
}
