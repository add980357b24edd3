using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Scripts;

/// <summary>Parameters given on the command line, kept with the script as comment lines <c>#: step.key = value</c> or <c>#: plate = "name"</c> at its end.</summary>
internal static partial class SetLines
{
    private const string Mark = "#: ";

    /// <summary>The text with the parameters appended.</summary>
    /// <exception cref="FileFaultException">One has not the form step.key=value.</exception>
    public static string Append(string text, IReadOnlyList<string> set)
    {
        if (set.Count == 0)
        {
            return text;
        }

        var whole = new StringBuilder(text.TrimEnd()).Append('\n');
        foreach (string one in set)
        {
            if (ForWholeRun().Match(one) is { Success: true } general)
            {
                whole.Append(Mark).Append(general.Groups["key"].Value).Append(" = ").Append(Quoted(general.Groups["value"].Value.Trim().Trim('"'))).Append('\n');
                continue;
            }

            Match form = Form().Match(one);
            if (!form.Success)
            {
                throw new FileFaultException([new FileFault(FilePosition.Whole("--set"), $"\"{one}\" can't be read", "step.key=value is accepted, for example series.most_readings=30; or plate=NAME, for the sheet on the bed")]);
            }

            whole.Append(Mark).Append(form.Groups["step"].Value).Append('.').Append(form.Groups["key"].Value).Append(" = ").Append(Value(form.Groups["value"].Value)).Append('\n');
        }

        return whole.ToString();
    }

    /// <summary>A parameter with its step's name in front, if it has none.</summary>
    public static string Qualified(string one, string step) =>
        !ForWholeRun().IsMatch(one) && one.IndexOf('=') is var equals && equals > 0 && !one[..equals].Contains('.') ? $"{step}.{one}" : one;

    /// <summary>Takes the appended parameters over those of the steps they name.</summary>
    public static void Apply(string whole, TomlFile file, ImmutableArray<TomlSection> steps)
    {
        foreach (string line in whole.Split('\n').Where(line => line.StartsWith(Mark, StringComparison.Ordinal)))
        {
            string setting = line[Mark.Length..];
            TomlSection set = TomlFile.Parse(setting, $"--set {setting}").Root;
            if (set.Has(PlateOnBed.Key) || set.Has(PlateOnBed.LastKey))
            {
                file.Root.Override(set);
                continue;
            }

            foreach (string step in set.Keys)
            {
                List<TomlSection> named = [.. steps.Where(section => section.Has("do") && section.Text("do") == step)];
                if (named.Count == 0)
                {
                    file.Faults.Add(FilePosition.Whole($"--set {setting}"), $"the script has no step {step}", "name one of its steps");
                }

                TomlSection parameters = set.Section(step);
                named.ForEach(section => section.Override(parameters));
            }
        }
    }

    /// <summary>A value as TOML: numbers, true, false, lists and quoted texts as they are, everything else as text.</summary>
    private static string Value(string value) => Literal().IsMatch(value) ? value : Quoted(value);

    private static string Quoted(string value) => $"\"{value.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";

    [GeneratedRegex(@"^\s*(?<key>plate|last_plate)\s*=\s*(?<value>[^\r\n]+)$", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex ForWholeRun();

    [GeneratedRegex(@"^(?<step>[a-z0-9-]+)\.(?<key>[a-z0-9_]+)\s*=\s*(?<value>[^\r\n]+)$", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Form();

    [GeneratedRegex("^(true|false|[-+]?[0-9][0-9_]*(\\.[0-9]+)?|\\[[-+0-9., ]*\\]|\"[^\"\\\\]*\")$", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Literal();
}
