using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.After;

/// <summary>What a run came to: findings, maps, steps, settings before and after, its report.</summary>
internal sealed class ResultsScreen : Screen
{
    private static readonly (Leaf Leaf, string Title)[] Leaves =
    [
        (Leaf.Findings, "1 Findings"), (Leaf.Map, "2 Bed"), (Leaf.Gap, "3 Gap"), (Leaf.Steps, "4 Steps"), (Leaf.Settings, "5 Settings"),
    ];

    private readonly Desk desk;
    private readonly RunResults results;
    private readonly IResultActions actions;
    private readonly ScrollPosition scroll = new();
    private ConclusionsState conclusions;
    private MapState? map;
    private GapState? gap;
    private Leaf leaf;
    private Rect lastRoom;

    /// <summary>Shows what a run came to.</summary>
    public ResultsScreen(Desk desk, RunResults results, IResultActions actions)
    {
        (this.desk, this.results, this.actions) = (desk, results, actions);
        conclusions = new ConclusionsState(results.Findings, 0, IsOpen: true);
        (map, gap) = (results.Map, results.Gap);
    }

    /// <summary>The pages.</summary>
    private enum Leaf
    {
        Findings,
        Map,
        Gap,
        Steps,
        Settings,
    }

    /// <inheritdoc />
    public override string Title => $"Run {results.Record.Header.RunId}";

    /// <inheritdoc />
    public override string Explanation =>
        "What the run came to. Findings stand in the order of what they do to the first layer; Enter opens the evidence and what to do next. Bed and gap are seen from above, front edge below; "
        + "arrows read any place. Settings are shown before and after.\n"
        + "Confidence is what the readings support, not a promise: follow the machine maker's instructions before you change a setting.";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys
    {
        get
        {
            switch (leaf)
            {
                case Leaf.Findings:
                    yield return KeyEntry.UpDown("choose", "Chooses a finding.", by => conclusions = conclusions with { Selected = Clamp(conclusions.Selected, by, results.Findings.Length) });
                    yield return KeyEntry.Of("evidence", "Shows or hides the evidence of the finding and what to do next.", () => conclusions = conclusions with { IsOpen = !conclusions.IsOpen }, Stroke.Enter, ' ') with
                    {
                        WhyNot = results.Findings.IsEmpty ? "There is no finding." : null,
                    };
                    yield return KeyEntry.Of("copy", "Copies the finding to the terminal's clipboard.", CopyFinding, 'c') with { WhyNot = results.Findings.IsEmpty ? "There is no finding." : null, InFooter = false };
                    break;
                case Leaf.Map or Leaf.Gap:
                    yield return KeyEntry.LeftRight("read a place", "Moves the cursor that reads the map to the left and right.", by => MoveCursor(by, 0));
                    yield return KeyEntry.UpDown("read", "Moves the cursor to the back and to the front.", by => MoveCursor(0, -Math.Sign(by))) with { InFooter = false };
                    yield return KeyEntry.Of("uncertainty", "Shows the uncertainty of the map instead of its heights, or the heights again.", SwitchLayer, 'u') with
                    {
                        WhyNot = leaf == Leaf.Gap ? "The gap's uncertainty is in its probability already." : null,
                        InFooter = leaf == Leaf.Map,
                    };
                    yield return KeyEntry.Of("copy", "Copies the place under the cursor and what is read there.", CopyPlace, 'c') with { WhyNot = Cursor is null ? "Move the cursor to a place first." : null };
                    break;
                default:
                    yield return KeyEntry.UpDown("scroll", "Scrolls the page.", scroll.Move);
                    break;
            }

            yield return new KeyEntry([Stroke.Tab, Stroke.BackTab], "next page", "Goes to the next page, or back with Shift.", stroke => Turn(stroke == Stroke.Tab ? 1 : -1)) { IsCommand = false };
            yield return new KeyEntry(['1', '2', '3', '4', '5'], "page", "Goes to the page of that number.", stroke => GoTo((Leaf)(stroke.Name[0] - '1'))) { InFooter = false, IsCommand = false };
            yield return KeyEntry.Of("report", "Opens the report page, or says where it is.", () => actions.OpenReport(results.Record), 'o');
            yield return KeyEntry.Of("save report", "Saves the report page under a name of yours.", () => actions.SaveReport(results.Record), 'w');
            yield return KeyEntry.Of("compare", "Compares the map with an earlier one of the same machine.", () => actions.CompareWithEarlier(results), 'v') with
            {
                InFooter = leaf == Leaf.Map,
                WhyNot = results.Map is null ? "This run captured no map." : null,
            };
        }
    }

    private Machine.Geometry.BedPoint? Cursor => leaf == Leaf.Map ? map?.Cursor : gap?.Cursor;

    /// <inheritdoc />
    public override void Wheel(int rows)
    {
        scroll.Move(rows);
        conclusions = conclusions with { Selected = Clamp(conclusions.Selected, leaf == Leaf.Findings ? Math.Sign(rows) : 0, results.Findings.Length) };
    }

    /// <inheritdoc />
    public override void Click(int column, int row)
    {
        if (row == lastRoom.Top - 1 && TabAt(column) is { } tab)
        {
            GoTo(tab);
        }
        else if (leaf == Leaf.Findings && lastRoom.Contains(column, row) && ConclusionsPicture.FindingAt(lastRoom, conclusions, row) is { } finding)
        {
            conclusions = conclusions with { Selected = finding, IsOpen = finding != conclusions.Selected || !conclusions.IsOpen };
        }
        else if (leaf == Leaf.Map && map is { } bed && MapPicture.PlaceAt(lastRoom, bed, column, row) is { } place)
        {
            map = bed with { Cursor = place };
        }
        else if (leaf == Leaf.Gap && gap is { } layer && GapPicture.PlaceAt(lastRoom, layer, column, row) is { } under)
        {
            gap = layer with { Cursor = under };
        }
    }

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var (head, room) = canvas.Area.CutTop(2);
        ResultsPages.DrawHead(canvas, new Rect(head.Left + 1, head.Top, head.Columns - 2, 1), results.Record);
        DrawTabs(canvas, head.Top + 1);
        room = room.Inset(1, 0);
        lastRoom = room;
        switch (leaf)
        {
            case Leaf.Findings:
                Picture.Draw(canvas, room, conclusions, palette);
                break;
            case Leaf.Map when map is { } heights:
                Picture.Draw(canvas, room, heights, palette);
                break;
            case Leaf.Gap when gap is { } layer:
                Picture.Draw(canvas, room, layer, palette);
                break;
            case Leaf.Map or Leaf.Gap:
                canvas.Write(room.Left, room.Top + 1, CellText.FirstThatFits(room.Columns, "This run captured no bed, so there is no map of it. Capture the bed from the start screen.", "No bed was captured, so there is no map. Capture one from the start."), Role.Quiet);
                break;
            case Leaf.Steps:
                ResultsPages.Steps(results.Record, room.Columns).Draw(canvas, room, scroll);
                break;
            default:
                ResultsPages.Settings(results.Record, room.Columns).Draw(canvas, room, scroll);
                break;
        }
    }

    private static int Clamp(int at, int by, int count) => by switch
    {
        int.MinValue => 0,
        int.MaxValue => Math.Max(0, count - 1),
        _ => Math.Clamp(at + by, 0, Math.Max(0, count - 1)),
    };

    private void DrawTabs(CellCanvas canvas, int row)
    {
        var column = 1;
        foreach (var (page, title) in Leaves)
        {
            column = canvas.Write(column, row, $" {title} ", page == leaf ? Ink.Selected : new Ink(Role.Quiet, Role.Raised)) + 1;
        }
    }

    private static Leaf? TabAt(int column)
    {
        var at = 1;
        foreach (var (page, title) in Leaves)
        {
            if (column >= at && column < at + title.Length + 2)
            {
                return page;
            }

            at += title.Length + 3;
        }

        return null;
    }

    private void Turn(int by) => GoTo((Leaf)(((int)leaf + by + Leaves.Length) % Leaves.Length));

    private void GoTo(Leaf page)
    {
        leaf = page;
        scroll.Move(int.MinValue);
    }

    private void MoveCursor(int right, int back)
    {
        if (leaf == Leaf.Map)
        {
            map = map?.WithCursorMoved(right, back);
        }
        else if (gap is { } layer && results.Map is { } bed)
        {
            gap = layer with { Cursor = (bed with { Cursor = layer.Cursor }).WithCursorMoved(right, back).Cursor };
        }
    }

    private void SwitchLayer() => map = map is { } shown ? shown with { Layer = shown.Layer == MapLayer.Height ? MapLayer.Uncertainty : MapLayer.Height } : null;

    private void CopyFinding()
    {
        var finding = conclusions.Ranked[conclusions.Selected];
        desk.Copy($"{finding.Title} {finding.Evidence} {finding.Next}", "the finding");
    }

    private void CopyPlace()
    {
        var place = Cursor!.Value;
        var value = leaf == Leaf.Map ? map!.Heights?.At(place) : gap!.Gap.At(place);
        desk.Copy(FormattableString.Invariant($"X {place.X:0.0} Y {place.Y:0.0} {(leaf == Leaf.Map ? "height" : "gap")} {value ?? double.NaN:0.000} mm"), "the place");
    }
}
