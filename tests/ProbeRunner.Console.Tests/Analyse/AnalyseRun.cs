using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using ProbeRunner.Console.Analyse;

namespace ProbeRunner.Console.Tests.Analyse;

/// <summary>Runs <c>analyse</c> in this process, on a text given as standard input or in a file of its own.</summary>
internal sealed record AnalyseRun(int ExitCode, string Output, string Error)
{
    internal JsonElement Json => JsonDocument.Parse(Output).RootElement;

    /// <summary>Runs on standard input, under a culture with decimal commas.</summary>
    internal static AnalyseRun On(string text, params string[] arguments) => Run(() => new StringReader(text), [arguments[0], "-", .. arguments[1..]]);

    /// <summary>Runs on the bytes of a file.</summary>
    internal static AnalyseRun OnFile(byte[] bytes, params string[] arguments)
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        File.WriteAllBytes(path, bytes);
        try
        {
            return Run(() => TextReader.Null, [arguments[0], path, .. arguments[1..]]);
        }
        finally
        {
            File.Delete(path);
        }
    }

    internal static AnalyseRun Run(Func<TextReader> input, params string[] arguments)
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
        try
        {
            using var output = new StringWriter(CultureInfo.InvariantCulture);
            using var error = new StringWriter(CultureInfo.InvariantCulture);
            ParseResult parsed = AnalyseCommand.Create(input).Parse(arguments);
            if (parsed.Errors.Count > 0)
            {
                return new AnalyseRun(2, string.Empty, string.Join('\n', parsed.Errors.Select(wrong => wrong.Message)));
            }

            int code = parsed.Invoke(new InvocationConfiguration { Output = output, Error = error, EnableDefaultExceptionHandler = false });
            return new AnalyseRun(code, output.ToString(), error.ToString());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
