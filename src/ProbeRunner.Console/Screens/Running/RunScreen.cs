using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>A run as it goes on.</summary>
internal sealed class RunScreen : Screen
{
    private readonly Desk desk;
    private readonly LiveRun live;
    private readonly QuestionPane question;

    /// <summary>Shows a run.</summary>
    public RunScreen(Desk desk, LiveRun live)
    {
        (this.desk, this.live) = (desk, live);
        question = new QuestionPane(desk.Time, text => desk.Tell(text, Role.Warning));
        live.Changed += TakeOver;
    }

    /// <inheritdoc />
    public override string Title => live.Order.Title;

    /// <inheritdoc />
    public override string Explanation => "";

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys => question.Keys;

    /// <inheritdoc />
    public override bool TakesText => question.TakesText;

    /// <inheritdoc />
    public override bool Type(Stroke stroke) => question.Type(stroke);

    /// <inheritdoc />
    public override void Paste(string text) => question.Paste(text);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        question.Draw(canvas, canvas.Area.CutBottom(question.RowsFor(canvas.Columns)).Bottom);
        canvas.Write(0, 0, live.View.Events.LastOrDefault()?.ToString() ?? "", Role.Text);
    }

    /// <inheritdoc />
    public override void Leave() => live.Changed -= TakeOver;

    private void TakeOver()
    {
        question.Show(live.Person?.Pending);
        desk.Redraw();
    }
}
