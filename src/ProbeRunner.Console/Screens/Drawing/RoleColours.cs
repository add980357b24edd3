namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>
/// The colours behind the roles. Text keeps a contrast of at least 4.5 to its ground (WCAG 2.2, 1.4.3); good and bad differ in lightness
/// as well as in hue, so that they can be told apart by every common kind of colour blindness.
/// </summary>
internal static class RoleColours
{
    /// <summary>What the sixteen look like on a usual terminal (the defaults of xterm); for choosing the nearest.</summary>
    private static readonly int[] Usual =
    [
        0x000000, 0xCD0000, 0x00CD00, 0xCDCD00, 0x0000EE, 0xCD00CD, 0x00CDCD, 0xE5E5E5,
        0x7F7F7F, 0xFF0000, 0x00FF00, 0xFFFF00, 0x5C5CFF, 0xFF00FF, 0x00FFFF, 0xFFFFFF,
    ];

    /// <summary>A role in true colour.</summary>
    public static Colour True(Role role, bool isDark) => Colour.Rgb(isDark ? Dark(role) : Light(role));

    /// <summary>A role in the terminal's sixteen.</summary>
    public static Sixteen Sixteen(Role role, bool isDark) => isDark ? DarkSixteen(role) : LightSixteen(role);

    /// <summary>The one of the sixteen nearest to a true colour.</summary>
    public static Sixteen Nearest(Colour colour)
    {
        Oklab wanted = Oklab.Of(colour);
        return (Sixteen)Enumerable.Range(0, Usual.Length).MinBy(number => Oklab.Of(Colour.Rgb(Usual[number])).DistanceTo(wanted));
    }

    /// <summary>What one of the sixteen looks like on a usual terminal.</summary>
    public static Colour Looks(Sixteen number) => Colour.Rgb(Usual[(int)number]);

    private static int Dark(Role role) => role switch
    {
        Role.Ground => 0x15181D,
        Role.Raised => 0x242A33,
        Role.Text => 0xDADDE2,
        Role.Quiet => 0x98A1AE,
        Role.Accent => 0x8FC7F5,
        Role.Good => 0x86DDA6,
        Role.Warning => 0xF2CC6B,
        Role.Bad => 0xFF8A6E,
        Role.Axis => 0x8A94A3,
        Role.Frame => 0x4C5664,
        Role.Key => 0xF3E3B0,
        Role.Selection => 0x2F5F8C,
        Role.SelectionText => 0xFFFFFF,
        Role.Alarm => 0xA3230F,
        Role.AlarmText => 0xFFFFFF,
        Role.Plate => 0x2B313B,
        Role.Hatch => 0x77818F,
        Role.Nozzle => 0xF0A860,
        _ => 0xB9A5F2,
    };

    private static int Light(Role role) => role switch
    {
        Role.Ground => 0xFAF9F5,
        Role.Raised => 0xE6E4DC,
        Role.Text => 0x22262C,
        Role.Quiet => 0x5A626C,
        Role.Accent => 0x0B5A94,
        Role.Good => 0x1C6B3C,
        Role.Warning => 0x7A5300,
        Role.Bad => 0xA3230F,
        Role.Axis => 0x5C646E,
        Role.Frame => 0xA9ADB1,
        Role.Key => 0x5B3E00,
        Role.Selection => 0x1F5E93,
        Role.SelectionText => 0xFFFFFF,
        Role.Alarm => 0xA3230F,
        Role.AlarmText => 0xFFFFFF,
        Role.Plate => 0xE0DED6,
        Role.Hatch => 0x6E747B,
        Role.Nozzle => 0x8F4A00,
        _ => 0x5B3FB0,
    };

    private static Sixteen DarkSixteen(Role role) => role switch
    {
        Role.Ground => Drawing.Sixteen.Black,
        Role.Raised => Drawing.Sixteen.Black,
        Role.Quiet or Role.Axis => Drawing.Sixteen.White,
        Role.Frame or Role.Hatch => Drawing.Sixteen.BrightBlack,
        Role.Accent => Drawing.Sixteen.BrightCyan,
        Role.Good => Drawing.Sixteen.BrightGreen,
        Role.Warning or Role.Key => Drawing.Sixteen.BrightYellow,
        Role.Bad => Drawing.Sixteen.BrightRed,
        Role.Selection => Drawing.Sixteen.Blue,
        Role.Alarm => Drawing.Sixteen.Red,
        Role.Plate => Drawing.Sixteen.Black,
        Role.Nozzle => Drawing.Sixteen.Yellow,
        Role.Probe => Drawing.Sixteen.BrightMagenta,
        _ => Drawing.Sixteen.BrightWhite,
    };

    private static Sixteen LightSixteen(Role role) => role switch
    {
        Role.Ground or Role.Raised or Role.Plate => Drawing.Sixteen.BrightWhite,
        Role.Frame or Role.Hatch or Role.Quiet or Role.Axis => Drawing.Sixteen.BrightBlack,
        Role.Accent or Role.Selection => Drawing.Sixteen.Blue,
        Role.Good => Drawing.Sixteen.Green,
        Role.Warning or Role.Key => Drawing.Sixteen.Magenta,
        Role.Bad or Role.Alarm => Drawing.Sixteen.Red,
        Role.SelectionText or Role.AlarmText => Drawing.Sixteen.BrightWhite,
        Role.Nozzle => Drawing.Sixteen.Red,
        Role.Probe => Drawing.Sixteen.Blue,
        _ => Drawing.Sixteen.Black,
    };
}
