using System.Globalization;
using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Console.Screens.Watching;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>Everything a run has told in words.</summary>
internal sealed class MessagesScreen(IShownRun run) : Screen
{
    private readonly LogPane pane = new();
    private List<LogLine> lines = [];

    /// <inheritdoc />
    public override string Title => "Messages";

    /// <inheritdoc />
    public override string Explanation => "What the run has told so far, newest last, with the time since it began. It follows the newest line until you scroll; End follows again.";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => [KeyEntry.UpDown("scroll", "Scrolls; End follows the newest line again.", by => pane.Move(by, lines))];

    /// <summary>The run's messages as lines of a log, long ones broken: what is cut off can't be read anywhere.</summary>
    /// <param name="view">The run.</param>
    /// <param name="speed">How much faster than the wall clock its clock goes; times are told by the wall clock.</param>
    /// <param name="columns">The width.</param>
    public static List<LogLine> LinesOf(RunView view, double speed, int columns)
    {
        var lines = new List<LogLine>();
        foreach (var line in view.Log.SelectMany(message => LinesOf(message, speed, columns)))
        {
            lines.Add(line with { Number = lines.Count });
        }

        return lines;
    }

    private static IEnumerable<LogLine> LinesOf(Message message, double speed, int columns)
    {
        var stamp = Stamp(message.At / speed);
        var text = (message.Kind is MessageKind.Caution ? "! " : message.Kind is MessageKind.Alarm ? "ALARM " : string.Empty) + message.Text;
        Ink ink = message.Kind switch
        {
            MessageKind.Caution => Role.Warning,
            MessageKind.Alarm => Ink.Alarm,
            MessageKind.Result => Ink.Bold(Role.Text),
            _ => Role.Text,
        };
        return CellText.Wrap(text, Math.Max(10, columns - stamp.Length - 1))
            .Select((part, index) => new LogLine(0, index == 0 ? stamp : new string(' ', stamp.Length), part, ink));
    }

    /// <inheritdoc />
    public override void Wheel(int rows) => pane.Move(rows, lines);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        lines = LinesOf(run.View, run.Speed, canvas.Columns - 2);
        pane.Draw(canvas, new Rect(1, 0, canvas.Columns - 2, canvas.Rows), lines);
    }

    private static string Stamp(TimeSpan at) => string.Create(CultureInfo.InvariantCulture, $"{(int)at.TotalMinutes,3}:{at.Seconds:00}");
}
