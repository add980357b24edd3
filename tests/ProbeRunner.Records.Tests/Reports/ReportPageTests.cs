using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Reports;

public class ReportPageTests
{
    private const string Hostile = "<script>alert(1)</script>\u001b[31m\u202Eevil\" onload=\"x";

    private static readonly StepVerdict Open = new(VerdictWord.Undecided, 0, "nothing was measured.");

    [Fact]
    public void A_finished_run_opens_with_its_verdict_in_a_sentence()
    {
        string page = Text(Commission.Record);

        int verdict = page.IndexOf("Fit, at 96\u00A0% confidence: the first layer will lie", StringComparison.Ordinal);
        Assert.InRange(verdict, 1, page.IndexOf("What to do next", StringComparison.Ordinal));
    }

    [Fact]
    public void The_page_asks_nothing_from_outside_and_runs_nothing()
    {
        string page = ReportPage.Render(Commission.Record);

        Assert.DoesNotMatch(new Regex("""(src|href|srcset|action)\s*=|@import|<script|<link|<iframe|javascript:|http:|https:""", RegexOptions.IgnoreCase), page);
        Assert.DoesNotMatch(new Regex("""url\((?!#)"""), page);
    }

    [Fact]
    public void Findings_come_with_the_largest_sure_effect_first_each_with_what_to_do()
    {
        string page = Text(Commission.Record);

        int tilt = page.IndexOf("The bed is higher at the back right.", StringComparison.Ordinal);
        int paper = page.IndexOf("The paper decides most", StringComparison.Ordinal);
        int edge = page.IndexOf("The right edge was not measured.", StringComparison.Ordinal);
        Assert.True(0 < tilt && tilt < paper && paper < edge);
        Assert.Contains("Turn the back right screw counter-clockwise", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_offset_is_shown_with_twice_its_standard_uncertainty_and_its_budget()
    {
        string page = Text(Commission.Record);

        Assert.Contains("\u22122.177\u00A0mm ± 0.012\u00A0mm", page, StringComparison.Ordinal);
        Assert.Contains("paper thickness", page, StringComparison.Ordinal);
        Assert.Contains("65\u00A0%", page, StringComparison.Ordinal);
    }

    [Fact]
    public void An_offset_that_no_step_stored_is_not_called_stored()
    {
        SampleRun journal = Commission.Journal();
        int stored = journal.Entries.Select(entry => entry.Reply).ToList().FindIndex(reply => reply.Contains("Store settings", StringComparison.Ordinal));

        Assert.DoesNotContain("No step of this run stored it", Text(Commission.Record), StringComparison.Ordinal);
        Assert.Contains("No step of this run stored it", Text(RunReader.Read(SampleRun.Header(), journal.Entries[..stored])), StringComparison.Ordinal);
    }

    [Fact]
    public void A_node_that_reads_back_differently_is_framed()
    {
        Assert.Single(Regex.Matches(ReportPage.Render(Commission.Record), "class=\"n differs\""));
        Assert.Contains("1 of 25 nodes", Text(Commission.Record), StringComparison.Ordinal);
    }

    [Fact]
    public void A_stopped_run_says_of_every_missing_part_that_and_why_it_is_missing()
    {
        string page = Text(Commission.Stopped);

        foreach (string part in new[] { "The Z offset", "The bed map", "The correction mesh", "The report of settings" })
        {
            Assert.Matches($"{part}[^.]* is missing: the run was stopped by the operator after the step \u201CRepeatability series\u201D.", page);
        }
    }

    [Fact]
    public void A_run_that_was_only_begun_has_a_page_too()
    {
        RunRecord begun = RunReader.Read(SampleRun.Header(), []);

        Assert.Contains("interrupted and has no outcome", Text(begun), StringComparison.Ordinal);
        Assert.Contains("before any step began", Text(begun), StringComparison.Ordinal);
    }

    [Fact]
    public void An_alarm_stands_before_everything_else()
    {
        var outcome = new RunOutcome.Faulted("The cable was pulled.", Open, "Switch off at the mains now.");
        string page = Text(RunReader.Read(SampleRun.Header(), new SampleRun().Session().End(outcome).Entries));

        Assert.InRange(page.IndexOf("Switch off at the mains now.", StringComparison.Ordinal), 1, page.IndexOf("Undecided", StringComparison.Ordinal));
    }

    [Fact]
    public void The_sound_part_of_a_damaged_record_is_shown_as_that()
    {
        string page = Text(RunReader.Read(SampleRun.Header(), Commission.Journal().Entries[..40], damagedFrom: 41));

        Assert.Contains("damaged from row 41 on", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Hostile_text_is_shown_and_neither_acts_nor_hides()
    {
        RunHeader header = SampleRun.Header() with { MachineName = Hostile, ScriptName = Hostile, PortIdentity = Hostile, ProfileText = Hostile, ProgramVersion = Hostile };
        var finding = new Finding(Hostile, Hostile, 0.1, Hostile, 0.5, Hostile, Hostile);
        var verdict = new StepVerdict(VerdictWord.NotFit, 0.9, Hostile);
        SampleRun run = new SampleRun().Session()
            .Step(Hostile, Hostile)
            .Ask(Hostile, Hostile, Hostile)
            .Changed(Hostile, Hostile, Hostile)
            .Interrupted(Hostile, Hostile)
            .Conclude(new PlainConclusion(verdict, [finding]))
            .End(new RunOutcome.Faulted(Hostile, verdict, Hostile));

        string page = ReportPage.Render(RunReader.Read(header, run.Entries));

        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("onload=\"", page, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', page);
        Assert.DoesNotContain('\u202E', page);
        Assert.Contains("\\u{202E}", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_picture_is_well_formed_and_named_for_those_who_cannot_see_it()
    {
        string page = ReportPage.Render(Commission.Record);
        MatchCollection pictures = Regex.Matches(page, "<svg.*?</svg>", RegexOptions.Singleline);

        Assert.Equal(3, pictures.Count);
        foreach (Match picture in pictures)
        {
            var svg = XElement.Parse(picture.Value);
            Assert.Equal("img", svg.Attribute("role")?.Value);
            Assert.False(string.IsNullOrWhiteSpace(svg.Element("title")?.Value));
            Assert.True(svg.Element("desc")?.Value.Length > 40);
            Assert.DoesNotMatch(@"NaN|∞|\d,\d{3}", string.Concat(svg.DescendantsAndSelf().Attributes().Select(attribute => attribute.Value + " ")));
        }
    }

    [Fact]
    public void The_page_is_well_formed_apart_from_html_s_void_elements()
    {
        string page = ReportPage.Render(Commission.Record);
        string closed = Regex.Replace(page, "<(meta[^>]*)>", "<$1/>").Replace("<!doctype html>", string.Empty, StringComparison.Ordinal);

        var html = XElement.Parse(closed.Trim());
        Assert.Equal("en", html.Attribute("lang")?.Value);
        string[] ids = [.. html.Descendants().Attributes("id").Select(id => id.Value)];
        Assert.Equal(ids.Distinct().Count(), ids.Length);
        Assert.All(html.Descendants("th"), header => Assert.NotNull(header.Attribute("scope")));
    }

    [Fact]
    public void A_voided_reading_stays_visible_and_marked()
    {
        var run = new SampleRun();
        run.Session().Step("grid", "Grid capture");
        long first = run.NextOrdinal;
        run.Touch(run.At(10, 10, 0.01)).Void(first, first).Touch(run.At(10, 10, 0.02));

        RunRecord record = RunReader.Read(SampleRun.Header(), run.Entries);

        Assert.Equal([true, false], record.Steps.Single().Readings.Select(reading => reading.Voided));
        Assert.Contains("taken again, does not count", Text(record), StringComparison.Ordinal);
    }

    [Fact]
    public void Samples_are_written_where_they_are_asked_for()
    {
        // Lets a person (and the browser check) look at pages of every kind of end.
        using var folder = new TemporaryFolder();
        string target = Environment.GetEnvironmentVariable("PROBERUNNER_REPORT_SAMPLES") ?? folder.Path;
        Directory.CreateDirectory(target);
        (string Name, RunRecord Run)[] samples =
        [
            ("commission", Commission.Record),
            ("stopped", Commission.Stopped),
            ("begun", RunReader.Read(SampleRun.Header(), [])),
        ];
        foreach ((string name, RunRecord run) in samples)
        {
            File.WriteAllText(Path.Combine(target, name + ".html"), ReportPage.Render(run));
        }

        Assert.All(samples, sample => Assert.True(File.Exists(Path.Combine(target, sample.Name + ".html"))));
    }

    [Fact]
    public void Screws_are_drawn_with_what_was_turned_which_way_round_and_how_level_the_bed_stands()
    {
        ScrewState[] before = [new("front left", new(35, 35), -0.21, 0), new("back right", new(205, 205), 0.21, 0)];
        ScrewState[] after = [before[0] with { HeightMm = 0.004 }, before[1] with { HeightMm = -0.004, TurnedBefore = -0.375 }];
        var screws = new ScrewsConclusion(new(VerdictWord.Fit, 0.95, "level."), [], [new("found", [.. before], 0, 0), new("round 1", [.. after], 0, 0)], 0.02, 0, 0);
        SampleRun run = new SampleRun().Session().Step("screws", "Bed screws").Conclude(screws);

        string page = Text(RunReader.Read(SampleRun.Header(), run.Entries));

        Assert.Contains("back right: 0.38 turn counter-clockwise", page, StringComparison.Ordinal);
        Assert.Contains("front left: not turned", page, StringComparison.Ordinal);
        Assert.Contains("+0.210 → \u22120.004", page, StringComparison.Ordinal);
    }

    private static string Text(RunRecord run) => WebUtility.HtmlDecode(ReportPage.Render(run));
}
