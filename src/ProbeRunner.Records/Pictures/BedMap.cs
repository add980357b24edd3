using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>The bed from above, front edge below: heights in colour with contour lines and numbers, probed places, clips, what the probe cannot reach.</summary>
internal static class BedMap
{
    private const int ContoursWanted = 10;
    private const int NumbersAcross = 5;

    /// <summary>Draws a capture.</summary>
    /// <param name="capture">What was found.</param>
    /// <param name="machine">The machine, for the plate's size, clips, screws and reach; null draws the captured area alone.</param>
    public static Html Draw(CaptureConclusion capture, MachineProfile? machine)
    {
        SurfaceMap map = capture.Map;
        var scale = HeightScale.For(map.Heights);
        var plate = new Plate(machine is null ? capture.Area : new BedRectangle(0, 0, machine.Bed.WidthMm, machine.Bed.DepthMm));
        return Html.Of($"""
            <svg class="bed-map" viewBox="0 0 {plate.Width + Plate.Left + Plate.Right} {plate.Depth + Plate.Top + Plate.Bottom}" role="img" aria-labelledby="bed-map-title bed-map-text">
            <title id="bed-map-title">Bed from above, front edge below</title>
            <desc id="bed-map-text">{Describe(capture, machine)}</desc>
            <defs>
            <pattern id="unreached" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2="6"/></pattern>
            <pattern id="clip" width="3" height="3" patternUnits="userSpaceOnUse"><path class="hatch-dense" d="M0 0L3 3M3 0L0 3"/></pattern>
            </defs>
            <rect class="plate" x="{plate.X(plate.Area.MinX)}" y="{plate.Y(plate.Area.MaxY)}" width="{plate.Width}" height="{plate.Depth}"/>
            <rect fill="url(#unreached)" x="{plate.X(plate.Area.MinX)}" y="{plate.Y(plate.Area.MaxY)}" width="{plate.Width}" height="{plate.Depth}"/>
            {Cells(map, plate, scale)}
            {Contours(map, plate, scale)}
            {Places(capture.Readings, plate)}
            {Fittings(machine, plate)}
            {Numbers(map, plate, scale, machine?.Travel.HomingPlace)}
            {Suspects(capture.Readings, plate)}
            <rect class="edge" x="{plate.X(plate.Area.MinX)}" y="{plate.Y(plate.Area.MaxY)}" width="{plate.Width}" height="{plate.Depth}"/>
            {Axes(plate)}
            {HeightLegend.Draw(plate, scale)}
            </svg>
            """);
    }

    /// <summary>The picture in words, for those who cannot see it.</summary>
    public static string Describe(CaptureConclusion capture, MachineProfile? machine)
    {
        SurfaceMap map = capture.Map;
        int high = IndexOf(map.Heights, map.Heights.Max());
        int low = IndexOf(map.Heights, map.Heights.Min());
        BedPoint highest = PlaceOf(map, high);
        BedPoint lowest = PlaceOf(map, low);
        string clips = machine is { Bed.Clips.Length: > 0 } ? FormattableString.Invariant($" {machine.Bed.Clips.Length} clips are marked.") : string.Empty;
        return $"Heights relative to the homing place. Highest {Figures.SignedMm(map.Heights[high])} at {Figures.Place(highest.X, highest.Y)}; "
            + $"lowest {Figures.SignedMm(map.Heights[low])} at {Figures.Place(lowest.X, lowest.Y)}. "
            + FormattableString.Invariant($"{capture.Readings.Length} readings.") + clips + " Hatched strips are out of the probe's reach or were not captured.";
    }

    private static Html Cells(SurfaceMap map, Plate plate, HeightScale scale)
    {
        // Each node colours the cell around it, cut at the captured area's edge; a hair of overlap hides seams.
        double stepX = map.Columns > 1 ? (map.Area.MaxX - map.Area.MinX) / (map.Columns - 1) : 0;
        double stepY = map.Rows > 1 ? (map.Area.MaxY - map.Area.MinY) / (map.Rows - 1) : 0;
        return Html.Each(Enumerable.Range(0, map.Heights.Length), index =>
        {
            BedPoint place = PlaceOf(map, index);
            BedRectangle cell = new BedRectangle(place.X - (stepX / 2), place.Y - (stepY / 2), place.X + (stepX / 2), place.Y + (stepY / 2)).Intersect(map.Area);
            return Html.Of($"""<path fill="{scale.Colour(map.Heights[index])}" d="M{plate.X(cell.MinX)} {plate.Y(cell.MaxY)}h{cell.MaxX - cell.MinX + 0.3}v{cell.MaxY - cell.MinY + 0.3}H{plate.X(cell.MinX)}z"/>""");
        });
    }

    private static Html Contours(SurfaceMap map, Plate plate, HeightScale scale)
    {
        double span = map.Heights.Max() - map.Heights.Min();
        double step = Ticks.Step(Math.Max(span, 0.005), ContoursWanted);
        double stepX = (map.Area.MaxX - map.Area.MinX) / Math.Max(1, map.Columns - 1);
        double stepY = (map.Area.MaxY - map.Area.MinY) / Math.Max(1, map.Rows - 1);
        return Html.Each(Ticks.Within(map.Heights.Min(), map.Heights.Max(), step), level =>
        {
            Html line = Html.Each(ContourLines.At(map.Heights, map.Columns, map.Rows, level), piece => Html.Of(
                $"M{plate.X(map.Area.MinX + (piece.From.Column * stepX))} {plate.Y(map.Area.MinY + (piece.From.Row * stepY))}L{plate.X(map.Area.MinX + (piece.To.Column * stepX))} {plate.Y(map.Area.MinY + (piece.To.Row * stepY))}"));
            string kind = Math.Abs(level) < step / 2 ? "contour zero" : "contour";
            return Html.Of($"""<path class="{kind}" stroke="{scale.Ink(level)}" d="{line}"/>""");
        });
    }

    private static Html Places(ImmutableArray<Reading> readings, Plate plate) => Html.Each(
        readings.Select(reading => reading.Place).Distinct(),
        place => Html.Of($"""<circle class="place" cx="{plate.X(place.X)}" cy="{plate.Y(place.Y)}" r="1"/>"""));

    private static Html Suspects(ImmutableArray<Reading> readings, Plate plate) => Html.Each(
        readings.Where(reading => reading.Suspect).Select(reading => reading.Place).Distinct(),
        place =>
        {
            Html cross = Html.Of($"M{plate.X(place.X) - 2.4} {plate.Y(place.Y) - 2.4}l4.8 4.8m0 -4.8l-4.8 4.8");
            return Html.Of($"""<path class="suspect-ground" d="{cross}"/><path class="suspect" d="{cross}"/>""");
        });

    private static Html Outline(BedRectangle area, Plate plate) => Html.Of(
        $"M{plate.X(area.MinX)} {plate.Y(area.MaxY)}H{plate.X(area.MaxX)}V{plate.Y(area.MinY)}H{plate.X(area.MinX)}z");

    private static Html Numbers(SurfaceMap map, Plate plate, HeightScale scale, BedPoint? home)
    {
        // The homing place has its own mark, and its height is zero by definition.
        IEnumerable<int> columns = Spread(map.Columns);
        IEnumerable<int> rows = Spread(map.Rows);
        return Html.Each(rows.SelectMany(row => columns.Select(column => (row * map.Columns) + column)).Where(index => !(home?.DistanceTo(PlaceOf(map, index)) < 10)), index =>
        {
            BedPoint place = PlaceOf(map, index);
            double x = Math.Clamp(place.X, map.Area.MinX + 13, map.Area.MaxX - 13);
            double y = Math.Clamp(place.Y, map.Area.MinY + 5, map.Area.MaxY - 9);
            string ink = scale.Ink(map.Heights[index]);
            string halo = ink == "#fff" ? "#000" : "#fff";
            return Html.Of($"""<text class="value" fill="{ink}" stroke="{halo}" x="{plate.X(x)}" y="{plate.Y(y) - 2.5}">{Figures.Signed(map.Heights[index], 3)}</text>""");
        });
    }

    private static Html Fittings(MachineProfile? machine, Plate plate)
    {
        if (machine is null)
        {
            return Html.Nothing;
        }

        Html clips = Html.Each(machine.Bed.Clips, clip => Html.Of(
            $"""<g class="clip"><title>Clip</title><path class="clip-back" d="{Outline(clip, plate)}"/><path fill="url(#clip)" d="{Outline(clip, plate)}"/></g>"""));
        Html screws = Html.Each(machine.Screws, screw => Html.Of(
            $"""<g class="screw"><title>Adjusting screw, {screw.Name}</title><circle cx="{plate.X(screw.Place.X)}" cy="{plate.Y(screw.Place.Y)}" r="3.2"/><path d="M{plate.X(screw.Place.X) - 3.2} {plate.Y(screw.Place.Y)}h6.4"/></g>"""));
        BedPoint home = machine.Travel.HomingPlace;
        return Html.Of($"""
            {clips}{screws}
            <path class="home" d="M{plate.X(home.X)} {plate.Y(home.Y) - 4.5}l4.5 4.5l-4.5 4.5l-4.5 -4.5z"><title>Homing place</title></path>
            """);
    }

    private static Html Axes(Plate plate)
    {
        double step = Ticks.Step(Math.Max(plate.Width, plate.Depth), 5);
        Html along = Html.Each(Ticks.Within(plate.Area.MinX, plate.Area.MaxX, step), x => Html.Of(
            $"""<path class="tick" d="M{plate.X(x)} {plate.Y(plate.Area.MinY)}v2.5"/><text class="tick-x" x="{plate.X(x)}" y="{plate.Y(plate.Area.MinY) + 9.5}">{x}</text>"""));
        Html up = Html.Each(Ticks.Within(plate.Area.MinY, plate.Area.MaxY, step), y => Html.Of(
            $"""<path class="tick" d="M{plate.X(plate.Area.MinX)} {plate.Y(y)}h-2.5"/><text class="tick-y" x="{plate.X(plate.Area.MinX) - 4}" y="{plate.Y(y) + 2.4}">{y}</text>"""));
        double middle = plate.X((plate.Area.MinX + plate.Area.MaxX) / 2);
        return Html.Of($"""
            {along}{up}
            <text class="side" x="{middle}" y="{plate.Y(plate.Area.MaxY) - 3.5}">back</text>
            <text class="side" x="{middle}" y="{plate.Y(plate.Area.MinY) + 18}">front · X, mm</text>
            <text class="side" transform="translate(7 {plate.Y((plate.Area.MinY + plate.Area.MaxY) / 2)}) rotate(-90)">Y, mm</text>
            """);
    }

    private static BedPoint PlaceOf(SurfaceMap map, int index)
    {
        double column = index % map.Columns;
        double row = index / map.Columns;
        return new BedPoint(
            map.Area.MinX + ((map.Area.MaxX - map.Area.MinX) * column / Math.Max(1, map.Columns - 1)),
            map.Area.MinY + ((map.Area.MaxY - map.Area.MinY) * row / Math.Max(1, map.Rows - 1)));
    }

    private static IEnumerable<int> Spread(int count)
    {
        int shown = Math.Min(count, NumbersAcross);
        return shown < 2 ? [0] : Enumerable.Range(0, shown).Select(at => (int)Math.Round((count - 1) * (double)at / (shown - 1)));
    }

    private static int IndexOf(ImmutableArray<double> heights, double height) => heights.IndexOf(height);
}
