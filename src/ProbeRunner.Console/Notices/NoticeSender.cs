using System.Diagnostics;
using System.Net.Mime;
using System.Text;

namespace ProbeRunner.Console.Notices;

/// <summary>Sends notices. Each way is tried once, for a bounded time; whatever fails is said on the messages and touches nothing else.</summary>
/// <param name="settings">Whom to tell.</param>
/// <param name="messages">Where failures are told.</param>
/// <param name="time">The wall clock.</param>
internal sealed class NoticeSender(NoticeSettings settings, TextWriter messages, TimeProvider time)
{
    /// <summary>How long a notice may take.</summary>
    internal static readonly TimeSpan Limit = TimeSpan.FromSeconds(10);

    /// <summary>Sends one; ends within <see cref="Limit"/> and a little, and never fails.</summary>
    public async Task SendAsync(Notice notice)
    {
        var body = notice.ToJson();
        await Task.WhenAll(
            settings.Url is { } url ? TryAsync($"to {url}", cancel => PostAsync(url, body, cancel)) : Task.CompletedTask,
            settings.Command is { } command ? TryAsync("by the command", cancel => RunAsync(command, body, cancel)) : Task.CompletedTask);
    }

    private async Task TryAsync(string way, Func<CancellationToken, Task> send)
    {
        using var deadline = new CancellationTokenSource(Limit, time);
        try
        {
            await send(deadline.Token);
        }
        catch (Exception failure)
        {
            var why = failure is OperationCanceledException ? FormattableString.Invariant($"it took longer than {Limit.TotalSeconds:0} s") : failure.Message;
            Say($"The notice {way} could not be given: {why}. The run is not affected.");
        }
    }

    private static async Task PostAsync(string url, string body, CancellationToken cancel)
    {
        using var client = new HttpClient();
        using var content = new StringContent(body, Encoding.UTF8, MediaTypeNames.Application.Json);
        using var answer = await client.PostAsync(new Uri(url), content, cancel);
        answer.EnsureSuccessStatusCode();
    }

    private static async Task RunAsync(string command, string body, CancellationToken cancel)
    {
        var start = new ProcessStartInfo(OperatingSystem.IsWindows() ? "cmd" : "/bin/sh")
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            ArgumentList = { OperatingSystem.IsWindows() ? "/c" : "-c", command },
        };
        using var process = Process.Start(start) ?? throw new IOException("the shell could not be started");
        try
        {
            process.OutputDataReceived += (_, _) => { };
            process.ErrorDataReceived += (_, _) => { };
            process.BeginOutputReadLine();
            process.BeginErrorReadLine();
            await WriteAsync(process, body, cancel);
            await process.WaitForExitAsync(cancel);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw;
        }

        if (process.ExitCode != 0)
        {
            throw new IOException(FormattableString.Invariant($"it ended with exit code {process.ExitCode}"));
        }
    }

    private static async Task WriteAsync(Process process, string body, CancellationToken cancel)
    {
        try
        {
            await process.StandardInput.WriteAsync(body.AsMemory(), cancel);
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It does not read what it is told; what it does with its exit code is its answer.
        }
    }

    private void Say(string text)
    {
        try
        {
            messages.WriteLine(text);
        }
        catch (IOException)
        {
            // No terminal any more.
        }
    }
}
