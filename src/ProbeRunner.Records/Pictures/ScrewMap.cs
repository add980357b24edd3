using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>The bed from above, front edge below: at each screw what was turned, which way round, and how the bed stands there before and after.</summary>
internal static class ScrewMap
{
    private const double LineMm = 9;
    private const double SideMm = 42;

    /// <summary>Draws the turns.</summary>
    /// <param name="machine">For the plate's size; null draws the screws' own rectangle.</param>
    public static Html Draw(ScrewsConclusion screws, MachineProfile? machine)
    {
        ScrewRound found = screws.Rounds[0], last = screws.Rounds[^1];
        var plate = new Plate(machine is null
            ? new BedRectangle(0, 0, found.Screws.Max(screw => screw.Place.X) + SideMm, found.Screws.Max(screw => screw.Place.Y) + SideMm)
            : new BedRectangle(0, 0, machine.Bed.WidthMm, machine.Bed.DepthMm));
        return Html.Of($"""
            <svg class="bed-map" viewBox="0 0 {plate.Width + Plate.Left + Plate.Right} {plate.Depth + Plate.Top + Plate.Bottom}" role="img" aria-labelledby="screw-map-title screw-map-text">
            <title id="screw-map-title">Screws seen from above, front edge below</title>
            <desc id="screw-map-text">{string.Join(" ", found.Screws.Select((screw, index) => Words(screws, index)))}</desc>
            <rect class="plate edge" x="{plate.X(plate.Area.MinX)}" y="{plate.Y(plate.Area.MaxY)}" width="{plate.Width}" height="{plate.Depth}"/>
            {Html.Each(Enumerable.Range(0, found.Screws.Length), index => Screw(found.Screws[index], last.Screws[index], TurnsOf(screws, index), plate))}
            <text class="side" x="{plate.X((plate.Area.MinX + plate.Area.MaxX) / 2)}" y="{plate.Y(plate.Area.MinY) + LineMm}">front</text>
            </svg>
            """);
    }

    /// <summary>Turns of a screw over all rounds, clockwise seen from above positive.</summary>
    public static double TurnsOf(ScrewsConclusion screws, int index) => screws.Rounds.Sum(round => round.Screws[index].TurnedBefore);

    /// <summary>A turn with its way round.</summary>
    public static string Turn(double turns) => Math.Abs(turns) < 0.001
        ? "not turned"
        : FormattableString.Invariant($"{Math.Abs(turns):0.00} turn {(turns > 0 ? "clockwise" : "counter-clockwise")}");

    private static Html Screw(ScrewState found, ScrewState last, double turns, Plate plate)
    {
        double x = plate.X(Math.Clamp(found.Place.X, plate.Area.MinX + SideMm, plate.Area.MaxX - SideMm)), y = plate.Y(found.Place.Y);
        string sign = Math.Abs(turns) < 0.001 ? string.Empty : turns > 0 ? "↻" : "↺";
        return Html.Of($"""
            <g class="screw"><circle cx="{plate.X(found.Place.X)}" cy="{y}" r="3.2"/></g>
            <text class="side" x="{x}" y="{y - LineMm}">{found.Name} {sign}</text>
            <text class="side" x="{x}" y="{y + (1.2 * LineMm)}">{Turn(turns)}</text>
            <text class="side" x="{x}" y="{y + (2.1 * LineMm)}">{Figures.Signed(found.HeightMm, 3)} → {Figures.Signed(last.HeightMm, 3)}</text>
            """);
    }

    private static string Words(ScrewsConclusion screws, int index)
    {
        (ScrewState found, ScrewState last) = (screws.Rounds[0].Screws[index], screws.Rounds[^1].Screws[index]);
        return $"{found.Name}: {Turn(TurnsOf(screws, index))}, from {Figures.SignedMm(found.HeightMm)} to {Figures.SignedMm(last.HeightMm)}.";
    }
}
