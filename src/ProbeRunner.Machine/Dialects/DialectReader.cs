using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.RegularExpressions;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Transport.Commands;

namespace ProbeRunner.Machine.Dialects;

/// <summary>Reads a dialect from TOML and checks all of it.</summary>
public static class DialectReader
{
    private static readonly Dictionary<string, TouchReport> TouchReports = new(StringComparer.Ordinal)
    {
        ["offset-included"] = TouchReport.OffsetIncluded,
        ["nozzle-height"] = TouchReport.NozzleHeight,
    };

    private static readonly Dictionary<string, bool> RowOrders = new(StringComparer.Ordinal) { ["front-first"] = true, ["back-first"] = false };

    // The order matters: an acknowledgement that carries a temperature is an acknowledgement.
    private static readonly (string Key, LineKind Kind)[] LineKinds =
    [
        ("acknowledge", LineKind.Acknowledge),
        ("resend", LineKind.Resend),
        ("busy", LineKind.Busy),
        ("reset", LineKind.ResetBanner),
        ("unknown_command", LineKind.UnknownCommand),
        ("halted", LineKind.Halted),
        ("idle", LineKind.Idle),
        ("temperature", LineKind.TemperatureReport),
        ("error", LineKind.Error),
    ];

    /// <summary>Reads and checks a dialect.</summary>
    /// <exception cref="FileFaultException">Something is wrong; every fault is named with its place.</exception>
    public static Dialect Read(TomlFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        TomlSection root = file.Root;
        string name = root.Text("name");
        root.Text("title", string.Empty);
        TouchReport touchReport = root.OneOf("touch_report", TouchReports);
        bool frontFirst = root.OneOf("mesh_rows", RowOrders, "front-first");
        ChannelTimes times = Times(root.Section("deadlines_seconds", required: false));
        LineWords? words = Words(root.Section("lines"));
        FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> commands = Commands(root.Section("commands"), isWhole: true);
        FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> otherwise = Commands(root.Section("commands_otherwise", required: false), isWhole: false);
        FrozenDictionary<string, ReplyPattern> replies = Replies(root.Section("replies"));
        FrozenDictionary<string, SettingName> settings = Settings(root.Section("settings", required: false));
        PatternWords? pattern = Pattern(root.Section("pattern", required: false));
        file.Finish();
        return new Dialect(name, file.Text, touchReport, frontFirst, times, words!, commands, otherwise, replies, settings) { Pattern = pattern };
    }

    private static ChannelTimes Times(TomlSection seconds)
    {
        ChannelTimes usual = ChannelTimes.Default;
        TimeSpan Wait(string key, TimeSpan otherwise) => TimeSpan.FromSeconds(seconds.Number(key, 0.1, 3600, otherwise.TotalSeconds));
        return new ChannelTimes
        {
            Query = Wait("query", usual.Query),
            Setting = Wait("setting", usual.Setting),
            Motion = Wait("motion", usual.Motion),
            LongMotion = Wait("long_motion", usual.LongMotion),
            Store = Wait("store", usual.Store),
            AfterBusy = Wait("after_busy", usual.AfterBusy),
            Quiet = Wait("quiet", usual.Quiet),
            Listen = Wait("listen", usual.Listen),
            Start = Wait("start", usual.Start),
        };
    }

    private static LineWords? Words(TomlSection lines)
    {
        bool numbered = lines.Flag("numbered", true);
        string halt = lines.Text("halt");
        if (CommandTemplate.TryParse(halt, out string? wrong) is not { } line || line.Parameters.Any())
        {
            lines.Refuse("halt", "this is no fixed line", wrong ?? "a line without parameters");
        }

        string before = lines.Text("before_number", string.Empty);
        string after = lines.Text("after_number", " ");
        string seal = lines.Text("before_checksum", string.Empty);
        foreach ((string key, string text) in new[] { ("before_number", before), ("after_number", after), ("before_checksum", seal) })
        {
            if (text.Length > 8 || text.Any(letter => letter is < ' ' or > '~'))
            {
                lines.Refuse(key, "this cannot frame a line", "at most 8 printable ASCII characters");
            }
        }

        CommandTemplate? setNumber = Template(lines, "set_number", lines.Text("set_number", numbered ? null : "unused{number:0}"), ["number"]);
        var kinds = LineKinds.Select(kind => (kind.Kind, Patterns(lines, kind.Key, required: kind.Kind == LineKind.Acknowledge, []))).ToList();
        return setNumber is null ? null : new LineWords(halt, before, after, seal, setNumber, numbered, kinds);
    }

    private static FrozenDictionary<Verb, ImmutableArray<CommandTemplate>> Commands(TomlSection section, bool isWhole)
    {
        var commands = new Dictionary<Verb, ImmutableArray<CommandTemplate>>();
        foreach ((Verb verb, VerbRule rule) in VerbTable.Rules.OrderBy(pair => pair.Key))
        {
            ImmutableArray<string> lines = section.TextOrTexts(rule.Key, isWhole && VerbTable.Required.Contains(verb));
            if (lines.IsEmpty)
            {
                continue;
            }

            ImmutableArray<CommandTemplate> templates =
                [.. lines.Select(line => Template(section, rule.Key, line, rule.Parameters)).OfType<CommandTemplate>()];
            var used = templates.SelectMany(template => template.Parameters).ToHashSet(StringComparer.Ordinal);
            if (templates.Length == lines.Length && rule.Parameters.FirstOrDefault(parameter => parameter != "feed" && !used.Contains(parameter)) is string missing)
            {
                section.Refuse(rule.Key, $"the parameter {missing} is not used", $"the command takes {string.Join(", ", rule.Parameters)}");
            }

            commands[verb] = templates;
        }

        return commands.ToFrozenDictionary();
    }

    private static PatternWords? Pattern(TomlSection section)
    {
        string comment = section.Text("comment", string.Empty);
        if (comment.Length == 0)
        {
            return null;
        }

        if (comment.Length > 3 || comment.Any(letter => letter is <= ' ' or > '~'))
        {
            section.Refuse("comment", "this cannot begin a remark", "1 to 3 printable ASCII characters");
        }

        return new PatternWords(comment, Lines("begin"), Lines("end"));

        ImmutableArray<CommandTemplate> Lines(string key) =>
            [.. section.TextOrTexts(key, required: true).Select(line => Template(section, key, line, ["probing", "nozzle", "bed"])).OfType<CommandTemplate>()];
    }

    private static CommandTemplate? Template(TomlSection section, string key, string text, ImmutableArray<string> parameters)
    {
        if (CommandTemplate.TryParse(text, out string? wrong) is not { } template)
        {
            section.Refuse(key, $"\"{Printable.Text(text)}\" is no command template", wrong!);
            return null;
        }

        if (template.Parameters.FirstOrDefault(parameter => !parameters.Contains(parameter)) is string unknown)
        {
            string accepted = parameters.IsEmpty ? "this command takes no parameters" : $"accepted are {string.Join(", ", parameters)}";
            section.Refuse(key, $"unknown parameter {unknown}", accepted);
        }

        return template;
    }

    private static FrozenDictionary<string, ReplyPattern> Replies(TomlSection section) => ReplyKeys.RequiredGroups
        .OrderBy(reply => reply.Key, StringComparer.Ordinal)
        .ToDictionary(
            reply => reply.Key,
            reply => Patterns(
                section,
                reply.Key,
                required: reply.Key is ReplyKeys.Position or ReplyKeys.Touch or ReplyKeys.TouchFailure or ReplyKeys.Temperatures,
                reply.Value),
            StringComparer.Ordinal)
        .ToFrozenDictionary(StringComparer.Ordinal);

    private static ReplyPattern Patterns(TomlSection section, string key, bool required, ImmutableArray<string> groups)
    {
        var patterns = ImmutableArray.CreateBuilder<Regex>();
        foreach (string text in section.TextOrTexts(key, required))
        {
            if (ReplyPattern.TryCompile(text, out string? wrong) is not { } pattern)
            {
                section.Refuse(key, $"this pattern cannot be used: {Printable.Text(wrong!)}", "a regular expression without look-around and back-references");
            }
            else if (groups.FirstOrDefault(group => !pattern.GetGroupNames().Contains(group)) is string missing)
            {
                section.Refuse(key, $"the pattern has no group named {missing}", $"it names {string.Join(", ", groups)}");
            }
            else
            {
                patterns.Add(pattern);
            }
        }

        return new ReplyPattern(patterns.ToImmutable());
    }

    private static FrozenDictionary<string, SettingName> Settings(TomlSection section)
    {
        var names = new Dictionary<string, SettingName>(StringComparer.Ordinal);
        foreach (string word in section.Keys.ToList())
        {
            TomlSection letters = section.Section(word);
            string unit = letters.Text("unit", string.Empty);
            foreach (string letter in letters.Keys.Where(key => key != "unit").ToList())
            {
                names[$"{word}.{letter}"] = new SettingName(letters.Text(letter), unit);
            }
        }

        return names.ToFrozenDictionary(StringComparer.Ordinal);
    }
}
