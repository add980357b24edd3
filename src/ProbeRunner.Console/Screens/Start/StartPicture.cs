using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>What the start screen shows now.</summary>
internal sealed record StartView(
    StartFacts Facts,
    bool IsLooking,
    int Focus,
    ListCursor[] Cursors,
    MachineChoice? Machine,
    ImmutableArray<PortChoice> Ports,
    ImmutableArray<RunListing> Unfinished,
    ImmutableArray<RunListing> Results,
    ScriptChoice? Work);

/// <summary>Draws the start screen's five panes.</summary>
internal static class StartPicture
{
    /// <summary>Draws them.</summary>
    public static void Draw(CellCanvas canvas, Rect[] layout, StartView view)
    {
        DrawList(canvas, layout[0], view, 0, "1 Machine", view.Facts.Machines.Length, "None yet: n describes one.", (sheet, line, item, ink) =>
        {
            var machine = view.Facts.Machines[item];
            var after = sheet.Write(line.Left, line.Top, CellText.Pad(machine.Name, 11), ink(Role.Text));
            sheet.Write(after + 1, line.Top, CellText.Fit(machine.Title, line.Right - after - 1), ink(machine.Fault is null ? Role.Quiet : Role.Bad));
        });
        DrawPorts(canvas, layout[1], view);
        DrawWork(canvas, layout[2], view);
        DrawList(canvas, layout[3], view, 3, "4 Take up again", view.Unfinished.Length, "Nothing was cut off.", (sheet, line, item, ink) => DrawRun(sheet, line, view.Unfinished[item], ink));
        DrawList(canvas, layout[4], view, 4, "5 Last results of this machine", view.Results.Length, "None yet.", (sheet, line, item, ink) => DrawRun(sheet, line, view.Results[item], ink));
    }

    private static void DrawPorts(CellCanvas canvas, Rect area, StartView view)
    {
        var (list, detail) = area.CutBottom(2);
        DrawList(canvas, list, view, 1, "2 Port", view.Ports.Length, "None found.", (sheet, line, item, ink) =>
        {
            var port = view.Ports[item];
            sheet.Write(line.Left, line.Top, CellText.Fit(port.Title, line.Columns), ink(port.IsSimulated ? Role.Accent : Role.Text));
        });
        if (view.Ports.ElementAtOrDefault(view.Cursors[1].At) is { } chosen)
        {
            WriteWrapped(canvas, new Rect(detail.Left + 2, detail.Top, detail.Columns - 2, detail.Rows), chosen.Detail, Role.Quiet);
        }
    }

    private static void DrawWork(CellCanvas canvas, Rect area, StartView view)
    {
        var (list, detail) = area.CutBottom(4);
        DrawList(canvas, list, view, 2, "3 What to do today", view.Facts.Scripts.Length, "No run scripts found.", (sheet, line, item, ink) =>
        {
            var work = view.Facts.Scripts[item];
            var time = work.UsualTime(view.Machine?.Profile) is { } usual ? "~" + Spoken(usual) : string.Empty;
            var person = work.Script is null ? "faulty" : work.NeedsPerson ? "with you" : "alone";
            sheet.WriteLeftOf(line.Right, line.Top, CellText.PadLeft(time, 7) + " " + CellText.Pad(person, 8), ink(Role.Quiet));
            sheet.Write(line.Left, line.Top, CellText.Fit(work.Script?.Title ?? work.Name, line.Columns - 17), ink(work.Fault is null ? Role.Text : Role.Bad));
        });
        if (view.Work is { } chosen)
        {
            var person = chosen.Script is null ? string.Empty : chosen.NeedsPerson ? " A person stays at the machine." : " Needs nobody; suits the night.";
            WriteWrapped(canvas, new Rect(detail.Left + 2, detail.Top, detail.Columns - 3, 3), (chosen.Script?.Purpose ?? chosen.Fault ?? string.Empty) + person, Role.Quiet);
        }
    }

    private static void DrawRun(CellCanvas sheet, Rect line, RunListing run, Func<Role, Ink> ink)
    {
        var (word, role) = run switch
        {
            { State: RunState.Damaged } => ("! damaged record", Role.Bad),
            { State: RunState.Running } => ("… under way", Role.Accent),
            { Outcome: RunOutcome.Completed { Verdict.State: VerdictWord.Fit } } => ("✓ fit", Role.Good),
            { Outcome: RunOutcome.Completed { Verdict.State: VerdictWord.NotFit } } => ("✗ not fit", Role.Bad),
            { Outcome: RunOutcome.Completed } => ("? undecided", Role.Warning),
            { Outcome: RunOutcome.Stopped } => ("■ stopped", Role.Warning),
            { Outcome: RunOutcome.Halted } => ("■ halted", Role.Bad),
            { Outcome: RunOutcome.Faulted } => ("! failed", Role.Bad),
            _ => ("… cut off", Role.Warning),
        };
        var after = sheet.Write(line.Left, line.Top, run.State == RunState.Damaged ? "-" : run.StartedAt.ToLocalTime().ToString("MM-dd HH:mm", CultureInfo.InvariantCulture), ink(Role.Quiet));
        sheet.WriteLeftOf(line.Right - 1, line.Top, word, ink(role));
        sheet.Write(after + 1, line.Top, CellText.Fit(run.State == RunState.Damaged ? run.RunId : run.ScriptName, line.Columns - 12 - CellText.Cells(word) - 3), ink(Role.Text));
    }

    private static void DrawList(
        CellCanvas canvas, Rect area, StartView view, int pane, string title, int count, string whenEmpty, Action<CellCanvas, Rect, int, Func<Role, Ink>> draw)
    {
        var hasFocus = view.Focus == pane;
        var room = Box.Pane(canvas, area, title, hasFocus);
        if (count == 0)
        {
            canvas.Write(room.Left + 2, room.Top, CellText.Fit(view.IsLooking ? "looking …" : whenEmpty, room.Columns - 2), Role.Quiet);
            return;
        }

        view.Cursors[pane].Draw(canvas, room, count, hasFocus, (sheet, line, item, isChosen) =>
            draw(sheet, line, item, role => isChosen && hasFocus ? Ink.Over(Role.SelectionText) : Ink.Over(role)));
    }

    private static void WriteWrapped(CellCanvas canvas, Rect area, string text, Ink ink)
    {
        var row = area.Top;
        foreach (var line in CellText.Wrap(text, area.Columns).Take(area.Rows))
        {
            canvas.Write(area.Left, row++, line, ink);
        }
    }

    private static string Spoken(TimeSpan time) => time.TotalMinutes < 90
        ? string.Create(CultureInfo.InvariantCulture, $"{Math.Max(1, Math.Round(time.TotalMinutes)):0} min")
        : string.Create(CultureInfo.InvariantCulture, $"{time.TotalHours:0.0} h");
}
