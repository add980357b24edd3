namespace ProbeRunner.Console.Screens.Drawing;

/// <summary>How a colour is given.</summary>
internal enum ColourKind
{
    /// <summary>The terminal's own text or ground colour.</summary>
    Terminal,

    /// <summary>By its role; the palette says which.</summary>
    Role,

    /// <summary>One of the terminal's sixteen.</summary>
    Sixteen,

    /// <summary>True colour.</summary>
    Rgb,

    /// <summary>Whatever the cell had before.</summary>
    Unchanged,
}

/// <summary>The terminal's sixteen colours, numbered as ECMA-48 and the aixterm extension number them.</summary>
internal enum Sixteen
{
    /// <summary>30.</summary>
    Black,

    /// <summary>31.</summary>
    Red,

    /// <summary>32.</summary>
    Green,

    /// <summary>33.</summary>
    Yellow,

    /// <summary>34.</summary>
    Blue,

    /// <summary>35.</summary>
    Magenta,

    /// <summary>36.</summary>
    Cyan,

    /// <summary>37.</summary>
    White,

    /// <summary>90: dark grey.</summary>
    BrightBlack,

    /// <summary>91.</summary>
    BrightRed,

    /// <summary>92.</summary>
    BrightGreen,

    /// <summary>93.</summary>
    BrightYellow,

    /// <summary>94.</summary>
    BrightBlue,

    /// <summary>95.</summary>
    BrightMagenta,

    /// <summary>96.</summary>
    BrightCyan,

    /// <summary>97.</summary>
    BrightWhite,
}

/// <summary>A colour, given by role, by number among the terminal's sixteen, or as true colour.</summary>
/// <param name="Kind">How it is given.</param>
/// <param name="Value">The role, the number, or 0xRRGGBB.</param>
internal readonly record struct Colour(ColourKind Kind, int Value)
{
    /// <summary>The terminal's own.</summary>
    public static Colour Terminal => default;

    /// <summary>Whatever the cell had before.</summary>
    public static Colour Unchanged => new(ColourKind.Unchanged, 0);

    /// <summary>Channels of a true colour, 0 to 255.</summary>
    public (byte Red, byte Green, byte Blue) Channels => ((byte)(Value >> 16), (byte)(Value >> 8), (byte)Value);

    /// <summary>A role's colour.</summary>
    public static implicit operator Colour(Role role) => new(ColourKind.Role, (int)role);

    /// <summary>One of the sixteen.</summary>
    public static implicit operator Colour(Sixteen number) => new(ColourKind.Sixteen, (int)number);

    /// <summary>True colour.</summary>
    /// <param name="rgb">0xRRGGBB.</param>
    public static Colour Rgb(int rgb) => new(ColourKind.Rgb, rgb & 0xFFFFFF);

    /// <summary>True colour from channels.</summary>
    public static Colour Rgb(byte red, byte green, byte blue) => new(ColourKind.Rgb, (red << 16) | (green << 8) | blue);
}
