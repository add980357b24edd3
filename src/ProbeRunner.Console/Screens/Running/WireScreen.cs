using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>What goes over the wire, with search and filter. Every character of the device is shown as text, whatever it is.</summary>
internal sealed class WireScreen(Desk desk, Func<WireTrace?> trace) : Screen
{
    private static readonly WireDirection?[] Filters = [null, WireDirection.Sent, WireDirection.Received, WireDirection.Note];
    private readonly LogPane pane = new();
    private readonly TextField search = new();
    private List<LogLine> lines = [];
    private bool isSearching;
    private int filter;
    private long? found;

    /// <inheritdoc />
    public override string Title => "Wire";

    /// <inheritdoc />
    public override string Explanation =>
        "Every line that went to the controller (→) and came from it (←), newest last. It is for finding out what a machine really said; nothing can be sent from here. "
        + "The same lines are kept in files beside the run store.";

    /// <inheritdoc />
    public override bool TakesText => isSearching;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => isSearching
        ? [
            KeyEntry.Of("find", "Goes to the newest line with that text.", () => { isSearching = false; Find(older: true, fromNewest: true); }, Stroke.Enter),
            KeyEntry.Of("no search", "Leaves the search.", () => isSearching = false, Stroke.Escape),
        ]
        : [
            KeyEntry.UpDown("scroll", "Scrolls; End follows the newest line again.", by => pane.Move(by, lines)),
            KeyEntry.Of("search", "Searches for a text.", () => isSearching = true, '/'),
            KeyEntry.Of("next older", "Goes to the next older line with the text.", () => Find(older: true, fromNewest: false), 'n'),
            KeyEntry.Of("next newer", "Goes to the next newer line with the text.", () => Find(older: false, fromNewest: false), 'N') with { InFooter = false },
            KeyEntry.Of(FilterWord, "Shows all lines, only those sent, only those received, only remarks.", () => (filter, found) = ((filter + 1) % Filters.Length, null), 'f'),
            KeyEntry.Of("copy line", "Copies the found line to the terminal's clipboard.", CopyFound, 'c') with { WhyNot = found is null ? "Search for a line first; the found one is copied." : null },
        ];

    private string FilterWord => Filters[filter] switch
    {
        WireDirection.Sent => "sent only",
        WireDirection.Received => "received only",
        WireDirection.Note => "remarks only",
        _ => "all lines",
    };

    /// <inheritdoc />
    public override bool Type(Stroke stroke) => search.Type(stroke);

    /// <inheritdoc />
    public override void Paste(string text) => search.Insert(text);

    /// <inheritdoc />
    public override void Wheel(int rows) => pane.Move(rows, lines);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        lines = Lines();
        var (head, room) = canvas.Area.CutTop(1);
        canvas.Write(1, head.Top, FormattableString.Invariant($"{lines.Count} lines, {FilterWord}"), Role.Quiet);
        if (isSearching || search.Text.Length > 0)
        {
            var after = canvas.Write(30, head.Top, "search /", Ink.Bold(Role.Key));
            search.Draw(canvas, new Rect(after, head.Top, 40, 1), isSearching);
        }

        if (lines.Count == 0)
        {
            canvas.Write(2, room.Top + 1, "Nothing has gone over the wire yet.", Role.Quiet);
        }

        pane.Draw(canvas, new Rect(1, room.Top, canvas.Columns - 2, room.Rows), lines, found);
    }

    private List<LogLine> Lines()
    {
        if (trace() is not { } wire)
        {
            return [];
        }

        // The count is asked first: a line that comes in between is then shown with the next drawing.
        var recent = wire.Recent();
        var number = wire.Count - recent.Length;
        var shown = new List<LogLine>(recent.Length);
        foreach (var entry in recent)
        {
            if (Filters[filter] is null || entry.Direction == Filters[filter])
            {
                shown.Add(Line(Filters[filter] is null ? number : shown.Count, entry));
            }

            number++;
        }

        return shown;
    }

    private static LogLine Line(long number, WireEntry entry)
    {
        var (arrow, role) = entry.Direction switch
        {
            WireDirection.Sent => ("→", Role.Accent),
            WireDirection.Received => ("←", Role.Text),
            _ => ("-", Role.Warning),
        };
        return new LogLine(number, entry.Time.ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture) + " " + arrow, entry.Printable, role);
    }

    private void Find(bool older, bool fromNewest)
    {
        if (search.Text.Length == 0)
        {
            desk.Tell("Type what to search for after /.");
            return;
        }

        var matching = lines.Where(line => line.Text.Contains(search.Text, StringComparison.OrdinalIgnoreCase)).ToImmutableArray();
        var from = fromNewest ? null : found;
        LogLine? next = older
            ? matching.Cast<LogLine?>().LastOrDefault(line => from is null || line!.Value.Number < from)
            : matching.Cast<LogLine?>().FirstOrDefault(line => from is null || line!.Value.Number > from);
        if (next is { } line)
        {
            found = line.Number;
            pane.Show(line);
        }
        else
        {
            desk.Tell($"No {(fromNewest ? string.Empty : older ? "older " : "newer ")}line has \"{search.Text}\".", Role.Warning);
        }
    }

    private void CopyFound()
    {
        if (lines.Cast<LogLine?>().FirstOrDefault(line => line!.Value.Number == found) is { } line)
        {
            desk.Copy(line.Text, "the line");
        }
    }
}
