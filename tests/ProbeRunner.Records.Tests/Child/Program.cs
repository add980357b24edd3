using System.Globalization;
using System.Text;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Child;

/// <summary>
/// The writing process of the tests that kill one: <c>STORE RUN COUNT</c> begins the run, or takes it up, and appends rows, each acknowledged
/// on standard output by its ordinal once it is durable; <c>measure STORE COUNT</c> tells how long an append takes. After a failure it tries once more and says what became of that.
/// </summary>
internal static class Program
{
    public static int Main(string[] arguments)
    {
        if (arguments is ["measure", var where, var many])
        {
            return CommitTimes.Measure(where, int.Parse(many, CultureInfo.InvariantCulture));
        }

        RunStore store = RunStore.Open(arguments[0]);
        string runId = arguments[1];
        int count = int.Parse(arguments[2], CultureInfo.InvariantCulture);
        using Stream output = Console.OpenStandardOutput();
        using RunJournal journal = store.List().Any(run => run.RunId == runId) ? store.OpenForResume(runId) : store.Create(SampleRun.Header(runId));
        long ordinal = journal.ReadAll().Count();
        Say(output, "ready");
        try
        {
            for (int row = 0; row < count; row++)
            {
                journal.Append(Row(++ordinal));
                Say(output, ordinal.ToString(CultureInfo.InvariantCulture));
            }
        }
        catch (JournalFailedException)
        {
            Say(output, "failed");
            Say(output, IsRefused(journal, ordinal) ? "refused" : "accepted");
            return 3;
        }

        Say(output, "done");
        return 0;
    }

    /// <summary>What the row of an ordinal holds: the parent knows it too.</summary>
    public static JournalEntry Row(long ordinal)
    {
        var reading = new Reading(new BedPoint(ordinal % 24 * 10, ordinal / 24), 0.01 * Math.Sin(ordinal), SampleRun.Start.AddSeconds(ordinal), 1, false);
        string request = string.Create(CultureInfo.InvariantCulture, $$"""{"kind":"touch","place":{"x":{{reading.Place.X}},"y":{{reading.Place.Y}}},"repeat":1}""");
        return new JournalEntry(ordinal, TimeSpan.FromSeconds(ordinal), EntryKind.Fact, 0, "grid", request, JournalJson.Write(reading));
    }

    private static bool IsRefused(RunJournal journal, long ordinal)
    {
        try
        {
            journal.Append(Row(ordinal));
            return false;
        }
        catch (JournalFailedException)
        {
            return true;
        }
    }

    // One write, so that a line is in the pipe whole before the next row is begun.
    private static void Say(Stream output, string line)
    {
        output.Write(Encoding.ASCII.GetBytes(line + "\n"));
        output.Flush();
    }
}
