using CsCheck;
using ProbeRunner.Console.Screens.Drawing;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Tests.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Pictures;

public sealed class PictureTests
{
    private const string Sentinel = "@";

    private static readonly Palette[] Palettes =
    [
        new(ColourDepth.True), new(ColourDepth.True, IsDark: false), new(ColourDepth.Sixteen), new(ColourDepth.Monochrome), new(ColourDepth.Monochrome, IsAscii: true),
    ];

    public static TheoryData<string> Names => [.. PictureSamples.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Nothing_is_drawn_outside_its_area_whatever_its_size(string name) =>
        Gen.Select(Gen.Int[0, 200], Gen.Int[0, 200], Gen.Int[0, 7], Gen.Int[0, 5], Gen.Int[0, Palettes.Length - 1]).Sample(
            (columns, rows, left, top, which) =>
            {
                Palette palette = Palettes[which];
                var canvas = new CellCanvas(columns + left + 3, rows + top + 2, palette.IsAscii);
                canvas.Fill(canvas.Area, Role.Bad, Sentinel);
                var area = new Rect(left, top, columns, rows);

                Picture.Draw(canvas, area, PictureSamples.All[name], palette);

                CanvasAssert.IsSound(canvas);
                for (int row = 0; row < canvas.Rows; row++)
                {
                    for (int column = 0; column < canvas.Columns; column++)
                    {
                        Assert.True(area.Contains(column, row) || canvas[column, row] == new Cell(Sentinel, Role.Bad), $"{name}: {column}, {row} of {area}");
                    }
                }
            },
            iter: 60);

    [Theory]
    [MemberData(nameof(Names))]
    public void Small_sizes_work_all(string name)
    {
        for (int columns = 0; columns <= 44; columns++)
        {
            for (int rows = 0; rows <= 14; rows++)
            {
                Picture.Draw(new CellCanvas(columns, rows), new Rect(0, 0, columns, rows), PictureSamples.All[name], Palettes[(columns + rows) % 4]);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_same_state_draws_the_same_picture(string name) => Assert.Equal(Drawn(name, 80, 24, Palettes[0]), Drawn(name, 80, 24, Palettes[0]));

    [Theory]
    [MemberData(nameof(Names))]
    public void Without_colours_the_picture_still_says_something(string name) =>
        Assert.NotEmpty(Drawn(name, 80, 24, Palettes[^1]).Trim());

    internal static string Drawn(string name, int columns, int rows, Palette palette)
    {
        var canvas = new CellCanvas(columns, rows, palette.IsAscii);
        Picture.Draw(canvas, canvas.Area, PictureSamples.All[name], palette);
        return canvas.ToText();
    }
}
