using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Procedures.Steps.Repeatability;

/// <summary>What happens between the touches of a series.</summary>
internal enum SeriesMode
{
    /// <summary>Nothing: one touch after the other.</summary>
    Plain,

    /// <summary>The plate is taken off and put back by a person.</summary>
    Plate,

    /// <summary>The probe is retracted and extended anew.</summary>
    Extensions,

    /// <summary>Z is homed anew.</summary>
    Homings,

    /// <summary>The carriage travels to a far corner and back.</summary>
    Travel,

    /// <summary>The touches are taken at several places.</summary>
    Places,

    /// <summary>Homings, extensions within each, touches within each of those.</summary>
    Nested,
}

/// <summary>The plan of a series.</summary>
/// <param name="Mode">What happens between groups of touches.</param>
/// <param name="Groups">How many groups (homings, plates, places); many groups with few touches each tell most.</param>
/// <param name="Extensions">Extensions within each homing of the nested design.</param>
/// <param name="Touches">Touches in each innermost group.</param>
internal sealed record SeriesDesign(SeriesMode Mode, int Groups, int Extensions, int Touches)
{
    private static readonly Dictionary<string, SeriesMode> Words =
        Enum.GetValues<SeriesMode>().ToDictionary(mode => mode.ToString().ToLowerInvariant(), StringComparer.Ordinal);

    /// <summary>Its word in scripts and records.</summary>
    public string Word => Mode.ToString().ToLowerInvariant();

    /// <summary>Names of the levels around a touch, outermost first.</summary>
    public string[] Levels => Mode switch
    {
        SeriesMode.Plain => [],
        SeriesMode.Plate => ["plate"],
        SeriesMode.Extensions => ["extension"],
        SeriesMode.Homings => ["homing"],
        SeriesMode.Travel => ["travel"],
        SeriesMode.Places => ["place"],
        _ => ["homing", "extension"],
    };

    /// <summary>Touches in all.</summary>
    public int Planned => Groups * (Mode == SeriesMode.Nested ? Extensions : 1) * Touches;

    /// <summary>
    /// Keys: <c>mode</c>, one of plain, plate, extensions, homings, travel, places, nested; <c>groups</c>, 3 to 50, 10 (15 nested);
    /// <c>extensions</c>, 2 to 10, 2; <c>touches</c>, 2 to 20, 2.
    /// </summary>
    public static SeriesDesign Read(TomlSection section)
    {
        SeriesMode mode = section.OneOf("mode", Words, "plain");
        return new SeriesDesign(
            mode, section.Whole("groups", 3, 50, mode == SeriesMode.Nested ? 15 : mode == SeriesMode.Places ? 5 : 10), section.Whole("extensions", 2, 10, 2), section.Whole("touches", 2, 20, 2));
    }
}
