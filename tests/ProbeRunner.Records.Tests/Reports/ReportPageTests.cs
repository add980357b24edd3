using ProbeRunner.Records.Reports;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Reports;

public class ReportPageTests
{
    [Fact]
    public void A_finished_run_opens_with_its_verdict_in_a_sentence()
    {
        string page = ReportPage.Render(Commission.Record);
        if (Environment.GetEnvironmentVariable("REPORT_SAMPLES") is { } folder)
        {
            File.WriteAllText(Path.Combine(folder, "commission.html"), page);
            File.WriteAllText(Path.Combine(folder, "stopped.html"), ReportPage.Render(Commission.Stopped));
        }

        Assert.Contains("Fit, at 96\u00A0% confidence: the first layer will lie", System.Net.WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.True(page.IndexOf("verdict fit", StringComparison.Ordinal) < page.IndexOf("What to do next", StringComparison.Ordinal));
    }
}
