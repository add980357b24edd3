using System.Diagnostics;
using System.Globalization;
using System.Text;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Benchmarks.Campaigns;

/// <summary>
/// A line out, its acknowledgement back, over a pseudo-terminal, beside a bare C client, all against the same C responder, the rounds
/// taking turns: median and 99th percentile, and the bytes that each line costs the garbage collector.
/// </summary>
internal static class RoundTrip
{
    private const int Rounds = 8;
    private const int LinesPerRound = 4000;
    private const string Line = "line 1234 X110.000 Y110.000 F3000";

    /// <summary>Runs the campaign; about half a minute.</summary>
    public static void Run(TextWriter report) => RunAsync(report).GetAwaiter().GetResult();

    private static async Task RunAsync(TextWriter report)
    {
        if (!OperatingSystem.IsLinux() || await CompileAsync() is not string program)
        {
            await report.WriteLineAsync("round trip: needs Linux and a C compiler (cc); not measured");
            return;
        }

        var floor = new Figures("bare C client");
        var descriptor = new Figures("descriptor link");
        var channel = new Figures("command channel, numbered, on it");
        var framework = new Figures("framework's serial port");
        for (int round = 0; round <= Rounds; round++)
        {
            // The first round warms up and does not count.
            bool counts = round > 0;
            floor.Add(await MeasureFloorAsync(program), 0, counts);
            await MeasureLinkAsync(program, SerialBackend.Descriptor, LinesPerRound, descriptor, counts);
            await MeasureChannelAsync(program, channel, counts);
            await MeasureLinkAsync(program, SerialBackend.SerialPort, LinesPerRound / 10, framework, counts);
        }

        Figures urgent = await MeasureUrgentAsync(program);
        await report.WriteLineAsync($"round trip over a pseudo-terminal, {Line.Length + 1} bytes out, 3 back");
        foreach (Figures figures in (Figures[])[floor, descriptor, channel, framework])
        {
            await report.WriteLineAsync(figures.Beside(floor));
        }

        await report.WriteLineAsync(urgent.Alone());
    }

    private static async Task<string?> CompileAsync()
    {
        string source = Path.Combine(AppContext.BaseDirectory, "reference", "round-trip.c");
        string program = Path.Combine(Directory.CreateTempSubdirectory("round-trip").FullName, "round-trip");
        try
        {
            using Process compiler = Process.Start("cc", ["-O2", "-o", program, source]);
            await compiler.WaitForExitAsync();
            return compiler.ExitCode == 0 ? program : null;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }

    private static async Task<double[]> MeasureFloorAsync(string program)
    {
        await using Responder responder = await Responder.StartAsync(program);
        using Process client = Start(program, "client", responder.Device, LinesPerRound.ToString(CultureInfo.InvariantCulture));
        string[] nanoseconds = (await client.StandardOutput.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        return [.. nanoseconds.Select(text => double.Parse(text, CultureInfo.InvariantCulture) / 1000)];
    }

    private static async Task MeasureLinkAsync(string program, SerialBackend backend, int lines, Figures figures, bool counts)
    {
        await using Responder responder = await Responder.StartAsync(program);
        await using ILink link = await OpenAsync(responder, backend);
        byte[] line = Encoding.ASCII.GetBytes(Line + "\n");
        byte[] reply = new byte[64];
        double[] microseconds = new double[lines];
        for (int i = -1000; i < lines; i++)
        {
            if (i == 0)
            {
                figures.BeginAllocation();
            }

            long began = Stopwatch.GetTimestamp();
            await link.WriteAsync(line, CancellationToken.None);
            int have = 0;
            do
            {
                have += await link.ReadAsync(reply.AsMemory(have), CancellationToken.None);
            }
            while (reply[have - 1] != '\n');

            if (i >= 0)
            {
                microseconds[i] = Stopwatch.GetElapsedTime(began).TotalMicroseconds;
            }
        }

        figures.Add(microseconds, figures.EndAllocation(), counts);
    }

    private static async Task MeasureChannelAsync(string program, Figures figures, bool counts)
    {
        await using Responder responder = await Responder.StartAsync(program);
        ILink link = await OpenAsync(responder, SerialBackend.Descriptor);
        ChannelTimes times = ChannelTimes.Default with { Listen = TimeSpan.FromMilliseconds(50) };
        await using var channel = new CommandChannel(link, new Grammar(), TimeProvider.System, ChannelOptions.Default with { Times = times });
        await channel.BeginSessionAsync(CancellationToken.None);
        if (!channel.IsNumbered)
        {
            throw new InvalidOperationException("The responder was taken for one without checksums.");
        }

        var command = new Command("move X110.000 Y110.000", CommandKind.Motion);
        double[] microseconds = new double[LinesPerRound];
        for (int i = -1000; i < LinesPerRound; i++)
        {
            if (i == 0)
            {
                figures.BeginAllocation();
            }

            long began = Stopwatch.GetTimestamp();
            await channel.SendAsync(command, CancellationToken.None);
            if (i >= 0)
            {
                microseconds[i] = Stopwatch.GetElapsedTime(began).TotalMicroseconds;
            }
        }

        figures.Add(microseconds, figures.EndAllocation(), counts);
    }

    /// <summary>How long it takes until the operating system has a line that goes past the queue, while commands keep the link busy.</summary>
    private static async Task<Figures> MeasureUrgentAsync(string program)
    {
        const int times = 2000;
        await using Responder responder = await Responder.StartAsync(program);
        await using ILink link = await OpenAsync(responder, SerialBackend.Descriptor);
        using var enough = new CancellationTokenSource();
        Task busy = KeepBusyAsync(link, enough.Token);
        double[] microseconds = new double[times];
        for (int i = 0; i < times; i++)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(1), TimeProvider.System);
            long began = Stopwatch.GetTimestamp();
            link.WriteUrgent("\nhalt\n"u8);
            microseconds[i] = Stopwatch.GetElapsedTime(began).TotalMicroseconds;
        }

        await enough.CancelAsync();
        await busy;
        var figures = new Figures("urgent line, link busy");
        figures.Add(microseconds, 0, counts: true);
        return figures;
    }

    private static async Task KeepBusyAsync(ILink link, CancellationToken enough)
    {
        byte[] line = Encoding.ASCII.GetBytes(Line + "\n");
        byte[] reply = new byte[64];
        while (!enough.IsCancellationRequested)
        {
            await link.WriteAsync(line, CancellationToken.None);
            await link.ReadAsync(reply, CancellationToken.None);
        }
    }

    private static ValueTask<ILink> OpenAsync(Responder responder, SerialBackend backend) => LinkFactory.OpenAsync(
        new LinkAddress.Device(responder.Device), new LinkOptions { Backend = backend }, TimeProvider.System, CancellationToken.None);

    private static Process Start(string program, params string[] arguments)
        => Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true })!;

    /// <summary>The C responder on a pseudo-terminal of its own.</summary>
    private sealed class Responder(Process process, string device) : IAsyncDisposable
    {
        public string Device { get; } = device;

        public static async Task<Responder> StartAsync(string program)
        {
            Process process = Start(program, "serve");
            return new Responder(process, (await process.StandardOutput.ReadLineAsync())!);
        }

        public async ValueTask DisposeAsync()
        {
            process.Kill();
            await process.WaitForExitAsync();
            process.Dispose();
        }
    }

    private sealed class Grammar : ILineGrammar
    {
        public string HaltLine => "halt";

        public Command Question { get; } = new("question", CommandKind.Query);

        public ClassifiedLine Classify(string line)
            => line == "ok" ? new ClassifiedLine(LineKind.Acknowledge)
            : line.StartsWith("Resend: ", StringComparison.Ordinal)
                ? new ClassifiedLine(LineKind.Resend, int.Parse(line.AsSpan(8), NumberStyles.None, CultureInfo.InvariantCulture))
            : new ClassifiedLine(line.StartsWith("Error", StringComparison.Ordinal) ? LineKind.Error : LineKind.Other);

        public string Number(string command, int number) => string.Create(CultureInfo.InvariantCulture, $"N{number} {command}");

        public string Seal(string numbered, int checksum) => string.Create(CultureInfo.InvariantCulture, $"{numbered}*{checksum}");

        public string SetLineNumber(int number) => string.Create(CultureInfo.InvariantCulture, $"number {number}");
    }

    /// <summary>What was measured of one client.</summary>
    private sealed class Figures(string name)
    {
        private readonly List<double> _microseconds = [];
        private double _bytes;
        private long _before;

        public void BeginAllocation() => _before = GC.GetTotalAllocatedBytes(precise: true);

        public double EndAllocation() => GC.GetTotalAllocatedBytes(precise: true) - _before;

        public void Add(double[] microseconds, double bytes, bool counts)
        {
            if (counts)
            {
                _microseconds.AddRange(microseconds);
                _bytes += bytes;
            }
        }

        public string Beside(Figures floor)
        {
            double median = Quantile(0.5);
            double late = Quantile(0.99);
            return string.Create(
                CultureInfo.InvariantCulture,
                $"  {name,-34} median {median,8:0.0} us ({median / floor.Quantile(0.5):0.00} x)   p99 {late,8:0.0} us ({late / floor.Quantile(0.99):0.00} x)   {_bytes / _microseconds.Count,6:0.0} bytes/line");
        }

        public string Alone() => string.Create(
            CultureInfo.InvariantCulture,
            $"  {name,-34} median {Quantile(0.5),8:0.0} us            p99 {Quantile(0.99),8:0.0} us            worst {Quantile(1),8:0.0} us");

        private double Quantile(double share)
        {
            _microseconds.Sort();
            return _microseconds[(int)(share * (_microseconds.Count - 1))];
        }
    }
}
