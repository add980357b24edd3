using ProbeRunner.Console.Screens.Controls;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Keys;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Shell;

namespace ProbeRunner.Console.Screens.Profiles;

/// <summary>Describes a new machine field by field, with a picture of bed, travel and probe that follows what is typed.</summary>
internal sealed class NewMachineScreen(Desk desk, Action<ProfileDraft> save) : Screen
{
    private const int Kind = 5;
    private const int BedMoves = 4;

    private static readonly (string Name, string Help)[] Rows =
    [
        ("short name", "Letters, digits and hyphens; also the file's name."),
        ("title", "What you call the machine."),
        ("bed width", "mm, left to right, the plate itself. Measure it; the printed area may be smaller."),
        ("bed depth", "mm, front to back."),
        ("bed moves", "Space changes it: whether the bed moves front and back, or the gantry does."),
        ("probe kind", "Space changes it: how the probe works."),
        ("probe x", "mm from the nozzle to the probe's tip; negative: the probe is left of the nozzle."),
        ("probe y", "mm from the nozzle to the probe's tip; negative: the probe is in front of the nozzle."),
        ("trigger above", "mm by ruler: how far the nozzle still is above the bed when the probe triggers. Too large is safer refused than too small: the floor of every descent depends on it."),
        ("serial speed", "Bits per second; 115200 and 250000 are usual."),
    ];

    private readonly TextField[] fields =
    [
        new(ProfileDraft.Usual.Name, 40), new(ProfileDraft.Usual.Title, 60), new(ProfileDraft.Usual.Width, 8), new(ProfileDraft.Usual.Depth, 8), new(), new(),
        new(ProfileDraft.Usual.OffsetX, 8), new(ProfileDraft.Usual.OffsetY, 8), new(ProfileDraft.Usual.TriggerToNozzle, 8), new(ProfileDraft.Usual.Baud, 8),
    ];

    private bool bedMoves = ProfileDraft.Usual.BedMoves;
    private int kind;
    private int at;

    /// <inheritdoc />
    public override string Title => "New machine";

    /// <inheritdoc />
    public override string Explanation =>
        "Describe the machine; the picture follows. What is not asked here (feeds, clips, screws, temperatures) gets usual values in the file, with comments: open it in an editor afterwards and compare it with the machine.";

    /// <inheritdoc />
    public override bool TakesText => true;

    /// <inheritdoc />
    public override IEnumerable<KeyEntry> Keys =>
    [
        new KeyEntry([Stroke.Up, Stroke.Down, Stroke.Tab, Stroke.BackTab, Stroke.Enter], "field", "Goes to the next field, or to the one before.", stroke => Move(stroke.Name is "up" or "shift-tab" ? -1 : 1)) { Shown = 2, IsCommand = false },
        KeyEntry.Of("save", "Writes the profile into your own folder.", Save, Stroke.Function(10), Stroke.Control('s')) with { WhyNot = Draft.Check().Fault },
    ];

    private ProfileDraft Draft => new(
        fields[0].Text, fields[1].Text, fields[2].Text, fields[3].Text, bedMoves, ProfileDraft.Kinds[kind], fields[6].Text, fields[7].Text, fields[8].Text, fields[9].Text);

    /// <inheritdoc />
    public override bool Type(Stroke stroke)
    {
        if (at is BedMoves or Kind)
        {
            if (stroke == ' ')
            {
                (bedMoves, kind) = at == BedMoves ? (!bedMoves, kind) : (bedMoves, (kind + 1) % ProfileDraft.Kinds.Count);
            }

            return stroke.IsText;
        }

        return fields[at].Type(stroke);
    }

    /// <inheritdoc />
    public override void Paste(string text) => fields[at].Insert(text);

    /// <inheritdoc />
    public override void Draw(CellCanvas canvas, Palette palette)
    {
        var (form, right) = canvas.Area.CutLeft(Math.Clamp(canvas.Columns * 42 / 100, 36, 48));
        for (var row = 0; row < Rows.Length; row++)
        {
            var isChosen = row == at;
            canvas.Write(form.Left + 1, form.Top + 1 + row, CellText.Pad((isChosen ? "▶ " : "  ") + Rows[row].Name, 16), isChosen ? Ink.Bold(Role.Accent) : Role.Quiet);
            var place = new Rect(form.Left + 18, form.Top + 1 + row, form.Columns - 20, 1);
            if (row is BedMoves or Kind)
            {
                canvas.Write(place.Left, place.Top, row == BedMoves ? (bedMoves ? "yes, the bed moves along Y" : "no, the gantry does") : ProfileDraft.Kinds[kind], isChosen ? Ink.Selected : Role.Text);
            }
            else
            {
                fields[row].Draw(canvas, place, isChosen);
            }
        }

        var (profile, fault) = Draft.Check();
        var page = new Page(form.Columns - 3);
        page.Paragraphs(Rows[at].Help, Role.Text);
        page.Gap();
        page.Paragraphs(fault ?? "Sound. F10 saves it.", fault is null ? Role.Good : Role.Warning);
        page.Draw(canvas, new Rect(form.Left + 2, form.Top + Rows.Length + 2, form.Columns - 3, form.Rows - Rows.Length - 2), new ScrollPosition());
        if (profile is not null)
        {
            Picture.Draw(canvas, right.Inset(1, 0), ProfileState.Of(profile), palette);
        }
    }

    /// <inheritdoc />
    public override void Click(int column, int row) => at = row >= 1 && row <= Rows.Length ? row - 1 : at;

    private void Move(int by) => at = (at + by + Rows.Length) % Rows.Length;

    private void Save()
    {
        var draft = Draft;
        desk.Close(this);
        save(draft);
    }
}
