using System.Collections.Immutable;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>Everything a simulated printer is: machine, bed, probe, heat, person and controller, as its scenario file says. Lengths in mm, times in s, temperatures in degC.</summary>
public sealed record Scenario
{
    /// <summary>Short name, as in the file name.</summary>
    public string Name { get; init; } = "unnamed";

    /// <summary>What it teaches, one sentence.</summary>
    public string Title { get; init; } = "";

    /// <summary>The machine's name, as its controller reports it.</summary>
    public string MachineName { get; init; } = "wren-240";

    /// <summary>Key of all chance.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>The plate and its shape.</summary>
    public BedScenario Bed { get; init; } = new();

    /// <summary>Travel, feeds and accelerations.</summary>
    public TravelScenario Travel { get; init; } = new();

    /// <summary>The probe.</summary>
    public ProbeScenario Probe { get; init; } = new();

    /// <summary>The controller's correction mesh.</summary>
    public MeshScenario Mesh { get; init; } = new();

    /// <summary>Heaters and what heat does to the machine.</summary>
    public HeatScenario Heat { get; init; } = new();

    /// <summary>The person at the machine.</summary>
    public PersonScenario Person { get; init; } = new();

    /// <summary>How the controller speaks and what it can do.</summary>
    public ControllerScenario Controller { get; init; } = new();

    /// <summary>Adjusting screws; three or four, or none.</summary>
    public ImmutableArray<ScrewScenario> Screws { get; init; } = [];
}

/// <summary>The bed plate: its size and its shape over u = 2x/width - 1 and v = 2y/depth - 1.</summary>
public sealed record BedScenario
{
    /// <summary>Along X.</summary>
    public double WidthMm { get; init; } = 240;

    /// <summary>Along Y.</summary>
    public double DepthMm { get; init; } = 240;

    /// <summary>The controller's X at the plate's front-left corner.</summary>
    public double ControllerOriginX { get; init; }

    /// <summary>The controller's Y at the plate's front-left corner.</summary>
    public double ControllerOriginY { get; init; }

    /// <summary>Whether the bed, not the gantry, moves along Y.</summary>
    public bool MovesAlongY { get; init; } = true;

    /// <summary>How much the right edge is higher than the left one: the coefficient of u/2.</summary>
    public double TiltXMm { get; init; }

    /// <summary>How much the back edge is higher than the front one: the coefficient of v/2.</summary>
    public double TiltYMm { get; init; }

    /// <summary>The coefficient of u squared - 1/3: positive when the left and right edges are high.</summary>
    public double BowXMm { get; init; }

    /// <summary>The coefficient of v squared - 1/3: positive when the front and back edges are high.</summary>
    public double BowYMm { get; init; }

    /// <summary>The coefficient of uv: positive when front-left and back-right are high.</summary>
    public double TwistMm { get; init; }

    /// <summary>Bumps and dents.</summary>
    public ImmutableArray<Bump> Bumps { get; init; } = [];

    /// <summary>Peak to peak of a ripple.</summary>
    public double RippleMm { get; init; }

    /// <summary>Distance between two crests of the ripple.</summary>
    public double RipplePeriodMm { get; init; } = 20;

    /// <summary>Direction in which the ripple runs, degrees from X towards Y.</summary>
    public double RippleDirectionDegrees { get; init; }

    /// <summary>A further height over every place, mm, added to all that is said above; for campaigns in the same process, never in a file.</summary>
    public Func<double, double, double>? FurtherHeight { get; init; }

    /// <summary>Clips on the plate: rectangles [min x, min y, max x, max y].</summary>
    public ImmutableArray<ClipArea> Clips { get; init; } = [];

    /// <summary>How far clips stand above the plate.</summary>
    public double ClipHeightMm { get; init; } = 8;

    /// <summary>How fast the bed rises against the frame while the machine works, mm an hour.</summary>
    public double DriftMmPerHour { get; init; }
}

/// <summary>A Gaussian bump (or dent) of the plate.</summary>
/// <param name="X">Its middle, mm.</param>
/// <param name="Y">Its middle, mm.</param>
/// <param name="HeightMm">Negative for a dent.</param>
/// <param name="WidthMm">Full width at half maximum.</param>
public readonly record struct Bump(double X, double Y, double HeightMm, double WidthMm);

/// <summary>A rectangle of the plate that a clip covers, mm.</summary>
public readonly record struct ClipArea(double MinX, double MinY, double MaxX, double MaxY)
{
    /// <summary>Whether a place lies under the clip.</summary>
    public bool Covers(double x, double y) => x >= MinX && x <= MaxX && y >= MinY && y <= MaxY;
}

/// <summary>An adjusting screw under the bed.</summary>
/// <param name="Name">"front-left" and the like.</param>
/// <param name="X">Its place, mm.</param>
/// <param name="Y">Its place, mm.</param>
/// <param name="PitchMm">Thread pitch, mm a turn.</param>
/// <param name="ClockwiseRaises">Whether a clockwise turn, seen from above, raises the bed.</param>
public sealed record ScrewScenario(string Name, double X, double Y, double PitchMm, bool ClockwiseRaises);
