using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps;
using ProbeRunner.Procedures.Tests.Bench;

namespace ProbeRunner.Procedures.Tests.Scripts;

public sealed class RunScriptTests
{
    public static TheoryData<string> Shipped =>
        [.. Directory.EnumerateFiles(Path.Combine(TestBench.Folder, "runs"), "*.toml").Select(file => Path.GetFileNameWithoutExtension(file)!)];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void No_shipped_script_is_named_as_a_step_which_would_be_run_in_its_place(string name) => Assert.DoesNotContain(name, StepCatalogue.Names);

    [Theory]
    [MemberData(nameof(Shipped))]
    public void Every_shipped_script_can_be_run_on_every_shipped_machine(string name)
    {
        if (name == "five-minute-check")
        {
            return; // it needs a capture on record, which the program puts into it
        }

        foreach (string machine in new[] { "wren-240", "heron-330" })
        {
            OrderCheck.Check(TestBench.Script(name), new Machine.Profiles.ProfileCatalogue([TestBench.Folder]).Machine(machine), personPresent: true);
        }
    }

    [Fact]
    public void The_grid_script_needs_nobody_and_the_others_do()
    {
        OrderCheck.Check(TestBench.Script("map-bed"), TestBench.Profile, personPresent: false);
        Assert.Throws<ScriptRefusedException>(() => OrderCheck.Check(TestBench.Script("commission"), TestBench.Profile, personPresent: false));
    }

    [Fact]
    public void An_unknown_key_is_named_with_its_place_and_the_nearest_known()
    {
        FileFaultException fault = Assert.Throws<FileFaultException>(() => RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"series\"\nmost_reading = 30\n", "my.toml"));

        Assert.Contains("my.toml:4:1", fault.Message, StringComparison.Ordinal);
        Assert.Contains("most_readings", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_impossible_parameter_is_named_with_its_range()
    {
        FileFaultException fault = Assert.Throws<FileFaultException>(() => RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"grid\"\ncolumns = 2\n", "my.toml"));

        Assert.Contains("from 3 to 200", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_step_is_named_with_the_nearest_known()
    {
        FileFaultException fault = Assert.Throws<FileFaultException>(() => RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"seris\"\n", "my.toml"));

        Assert.Contains("did you mean series", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_out_of_the_probes_reach_is_refused_for_that_machine()
    {
        RunScript script = RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"first-lift\"\n[[step]]\ndo = \"home\"\n[[step]]\ndo = \"series\"\nplace_mm = [239, 120]\n", "my.toml");

        Assert.Contains("can't reach", Assert.Throws<ScriptRefusedException>(() => OrderCheck.Check(script, TestBench.Profile, true)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("series.most_readings=30", "most_readings = 30")]
    [InlineData("series.confidence = 0.9", "confidence = 0.9")]
    public void What_is_set_on_the_command_line_wins_and_is_kept_in_the_text(string set, string kept)
    {
        RunScript script = RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"series\"\nmost_readings = 7\n", "my.toml", [set]);

        Assert.Contains(kept, script.Text, StringComparison.Ordinal);
        Assert.Equal(script.Text, RunScript.Parse(script.Text, "my.toml").Text);
    }

    [Theory]
    [InlineData("series.most_readings=3000")]
    [InlineData("series.nonsense=3")]
    [InlineData("grid.columns=5")]
    [InlineData("nonsense")]
    [InlineData("series.most_readings=30\ntitle=\"x\"")]
    public void What_is_set_wrongly_on_the_command_line_is_refused(string set) =>
        Assert.Throws<FileFaultException>(() => RunScript.Parse("title = \"t\"\n[[step]]\ndo = \"series\"\n", "my.toml", [set]));

    [Fact]
    public void A_single_step_brings_the_homing_its_motions_need()
    {
        RunScript script = RunScript.ForStep("series", ["most_readings=9"]);

        OrderCheck.Check(script, TestBench.Profile, personPresent: true);
        Assert.Equal(["first-lift", "home", "series"], script.Steps.Select(step => step.Name));
    }

    [Theory]
    [InlineData("probe-offset")]
    [InlineData("touch-report-check")]
    [InlineData("lean")]
    public void A_single_step_that_trusts_the_probe_has_it_checked_first(string step)
    {
        RunScript script = RunScript.ForStep(step);

        OrderCheck.Check(script, TestBench.Profile, personPresent: true);
        Assert.Equal(["first-lift", "home-xy", "self-check", "first-home-z", step], script.Steps.Select(one => one.Name));
    }

    [Fact]
    public void A_single_step_that_trusts_the_probe_brings_the_tests_of_it()
    {
        RunScript script = RunScript.ForStep("step-down");

        OrderCheck.Check(script, TestBench.Profile, personPresent: true);
        Assert.Equal(["first-lift", "home-xy", "self-check", "first-home-z", "series", "step-down"], script.Steps.Select(step => step.Name));
    }

    [Fact]
    public void A_single_step_that_must_know_something_is_refused_with_the_steps_that_give_it()
    {
        ScriptRefusedException refusal = Assert.Throws<ScriptRefusedException>(() => OrderCheck.Check(RunScript.ForStep("mesh"), TestBench.Profile, true));

        Assert.Contains("grid", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_step_says_what_it_is_for()
    {
        Assert.All(StepCatalogue.Names, name =>
        {
            Step step = StepCatalogue.WithDefaults(name);
            Assert.Equal(name, step.Name);
            Assert.All([step.Title, step.Purpose, step.WhatGoodLooksLike], text => Assert.NotEmpty(text));
        });
    }
}
