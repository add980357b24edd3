using System.Net;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Reports;

public sealed class LeanSectionTests
{
    [Fact]
    public void A_lean_is_drawn_with_its_interval_and_what_it_does_on_either_side()
    {
        LeanVisit[] visits = [new(new(20, 120), 1, 2.0, -0.2, 0.01), new(new(120, 120), 1, 2.1, -0.2, 0.01), new(new(220, 120), 1, 2.2, -0.2, 0.01)];
        var along = new LeanAlongAxis("X", [.. visits], 0.001, 0.00005, 4, 0.0009, 0.0011, 120, 2.3, 240);
        var lean = new LeanConclusion(new(VerdictWord.NotFit, 0.95, "it leans."), [], [along], 0.04, "bed 21 degC");
        SampleRun run = new SampleRun().Session().Step("lean", "Lean along the gantry").Conclude(lean);

        string page = WebUtility.HtmlDecode(ReportPage.Render(RunReader.Read(SampleRun.Header(), run.Entries)));

        Assert.Contains("+1.000 (+0.900 to +1.100) µm per mm", page, StringComparison.Ordinal);
        Assert.Contains("\u22120.120\u00A0mm", page, StringComparison.Ordinal);
        Assert.Contains("3 visits; the distance changes by \u22120.120\u00A0mm at one side", page, StringComparison.Ordinal);
    }
}
