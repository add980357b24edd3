using System.Collections.Immutable;
using System.Text.RegularExpressions;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Machine.Touches;

namespace ProbeRunner.Machine.Dialects;

/// <summary>Turns a controller's lines into typed values by a dialect's patterns. A line that fails the grammar gives nothing.</summary>
internal sealed class ReplyReader(Dialect dialect)
{
    /// <summary>The first position in the lines, controller coordinates.</summary>
    public (double X, double Y, double Z)? Position(IEnumerable<string> lines) => Triple(lines, ReplyKeys.Position);

    /// <summary>The first touch report in the lines, controller coordinates; the height as reported.</summary>
    public (double X, double Y, double Z)? Touch(IEnumerable<string> lines) => Triple(lines, ReplyKeys.Touch);

    /// <summary>The line that says that a touch failed; null when none does.</summary>
    public string? TouchFailure(IEnumerable<string> lines) => lines.FirstOrDefault(dialect.Reply(ReplyKeys.TouchFailure).Matches);

    /// <summary>The probe offset in the lines.</summary>
    public ProbeOffset? ProbeOffset(IEnumerable<string> lines) =>
        Triple(lines, ReplyKeys.ProbeOffset) is { } triple ? new ProbeOffset(triple.X, triple.Y, triple.Z) : null;

    /// <summary>Whether the lines say that something is on; null when they don't say.</summary>
    public bool? State(IEnumerable<string> lines, string key)
    {
        foreach (string line in lines)
        {
            if (dialect.Reply(key).Match(line) is Match match)
            {
                return match.Groups["state"].ValueSpan.Equals("on", StringComparison.OrdinalIgnoreCase);
            }
        }

        return null;
    }

    /// <summary>Temperatures: nozzle, its target, bed, its target; degC.</summary>
    public (double Nozzle, double NozzleTarget, double Bed, double BedTarget)? Temperatures(IEnumerable<string> lines)
    {
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.Temperatures).Match(line) is Match match
                && ReplyPattern.Number(match, "nozzle") is double nozzle
                && ReplyPattern.Number(match, "nozzle_target") is double nozzleTarget
                && ReplyPattern.Number(match, "bed") is double bed
                && ReplyPattern.Number(match, "bed_target") is double bedTarget)
            {
                return (nozzle, nozzleTarget, bed, bedTarget);
            }
        }

        return null;
    }

    /// <summary>End switches by the controller's own names in lower case, and the probe.</summary>
    public ImmutableSortedDictionary<string, ProbeState> Switches(IEnumerable<string> lines)
    {
        var switches = ImmutableSortedDictionary.CreateBuilder<string, ProbeState>(StringComparer.Ordinal);
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.Switch).Match(line) is Match match)
            {
                string name = Printable.Text(match.Groups["name"].Value).Replace('_', ' ').ToLowerInvariant();
                switches[name] = match.Groups["open"].Success ? ProbeState.Open
                    : match.Groups["triggered"].Success ? ProbeState.Triggered
                    : ProbeState.Unknown;
            }
        }

        return switches.ToImmutable();
    }

    /// <summary>Settings by plain names, with units.</summary>
    public ImmutableSortedDictionary<string, string> Settings(IEnumerable<string> lines)
    {
        var values = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.Setting).Match(line) is not Match match)
            {
                continue;
            }

            string word = match.Groups["word"].Value.ToUpperInvariant();
            foreach (string field in match.Groups["fields"].Value.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            {
                string letter = field[..1].ToUpperInvariant();
                if (ReplyPattern.Number(field[1..]) is not null && dialect.SettingNameOf(word, letter) is { } name)
                {
                    values[name.Name] = name.Unit.Length == 0 ? field[1..] : $"{field[1..]} {name.Unit}";
                }
            }
        }

        return values.ToImmutable();
    }

    /// <summary>Fields and capabilities of an identification.</summary>
    public ImmutableSortedDictionary<string, string> Identity(IEnumerable<string> lines)
    {
        var fields = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.Capability).Match(line) is Match capability)
            {
                fields[Printable.Text(capability.Groups["key"].Value)] = capability.Groups["value"].Value;
                continue;
            }

            Match[] keys = [.. dialect.Reply(ReplyKeys.IdentityField).MatchAll(line)];
            for (int key = 0; key < keys.Length; key++)
            {
                int begin = keys[key].Index + keys[key].Length;
                int end = key + 1 < keys.Length ? keys[key + 1].Index : line.Length;
                fields[Printable.Text(keys[key].Groups["key"].Value)] = Printable.Text(line[begin..end].Trim());
            }
        }

        return fields.ToImmutable();
    }

    /// <summary>The mesh's rows, front first, each with its heights from the left, and the coarsest rounding in it, mm; empty when there are none.</summary>
    public (ImmutableArray<ImmutableArray<double>> Rows, double RoundingMm) Mesh(IEnumerable<string> lines)
    {
        var rows = new List<(int? Number, ImmutableArray<double> Heights)>();
        int decimals = 4;
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.MeshRow).Match(line) is not Match match)
            {
                continue;
            }

            string[] texts = match.Groups["heights"].Value.Split([' ', '\t', ',', '|'], StringSplitOptions.RemoveEmptyEntries);
            decimals = Math.Min(decimals, texts.Min(text => text.Length - text.IndexOf('.', StringComparison.Ordinal) - 1));
            int? number = ReplyPattern.Number(match, "row") is double row ? (int)row : null;
            rows.Add((number, [.. texts.Select(text => ReplyPattern.Number(text) ?? 0)]));
        }

        if (rows.Count > 0 && rows.All(row => row.Number is not null))
        {
            rows.Sort((one, other) => one.Number!.Value.CompareTo(other.Number!.Value));
        }
        else if (!dialect.MeshFrontRowFirst)
        {
            rows.Reverse();
        }

        return ([.. rows.Select(row => row.Heights)], 0.5 * Math.Pow(10, -decimals));
    }

    /// <summary>The rectangle of the mesh's nodes, controller coordinates; null when the controller does not say.</summary>
    public BedRectangle? MeshArea(IEnumerable<string> lines)
    {
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.MeshArea).Match(line) is Match match
                && ReplyPattern.Number(match, "min_x") is double minX
                && ReplyPattern.Number(match, "min_y") is double minY
                && ReplyPattern.Number(match, "max_x") is double maxX
                && ReplyPattern.Number(match, "max_y") is double maxY)
            {
                return new BedRectangle(minX, minY, maxX, maxY);
            }
        }

        return null;
    }

    /// <summary>The travel limits in the lines, controller coordinates; null when the controller does not say.</summary>
    public TravelLimits? TravelLimits(IEnumerable<string> lines)
    {
        foreach (string line in lines)
        {
            if (dialect.Reply(ReplyKeys.TravelLimits).Match(line) is not Match match)
            {
                continue;
            }

            double?[] read = [.. new[] { "min_x", "min_y", "min_z", "max_x", "max_y", "max_z" }.Select(name => ReplyPattern.Number(match, name))];
            if (read is [double minX, double minY, double minZ, double maxX, double maxY, double maxZ])
            {
                return new TravelLimits(new BedRectangle(minX, minY, maxX, maxY), minZ, maxZ);
            }
        }

        return null;
    }

    private (double X, double Y, double Z)? Triple(IEnumerable<string> lines, string key)
    {
        foreach (string line in lines)
        {
            if (dialect.Reply(key).Match(line) is Match match
                && ReplyPattern.Number(match, "x") is double x
                && ReplyPattern.Number(match, "y") is double y
                && ReplyPattern.Number(match, "z") is double z)
            {
                return (x, y, z);
            }
        }

        return null;
    }
}
