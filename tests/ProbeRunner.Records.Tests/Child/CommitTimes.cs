using System.Globalization;
using ProbeRunner.Records.Store;
using ProbeRunner.Records.Tests.Sample;

namespace ProbeRunner.Records.Tests.Child;

/// <summary>How long it takes until a row is durable.</summary>
internal static class CommitTimes
{
    public static int Measure(string path, int count)
    {
        RunStore store = RunStore.Open(path);
        TimeProvider clock = TimeProvider.System;
        double[] milliseconds = new double[count];
        using (RunJournal journal = store.Create(SampleRun.Header()))
        {
            for (int row = 0; row < count; row++)
            {
                long start = clock.GetTimestamp();
                journal.Append(Program.Row(row + 1));
                milliseconds[row] = clock.GetElapsedTime(start).TotalMilliseconds;
            }
        }

        Array.Sort(milliseconds);
        long begun = clock.GetTimestamp();
        int read = store.Read(SampleRun.Header().RunId).Entries.Length;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{count} appends: median {milliseconds[count / 2]:0.000} ms, p99 {milliseconds[count * 99 / 100]:0.000} ms, longest {milliseconds[^1]:0.0} ms; {read} rows read and verified in {clock.GetElapsedTime(begun).TotalMilliseconds:0} ms; {new FileInfo(path).Length / count} bytes a row"));
        return 0;
    }
}
