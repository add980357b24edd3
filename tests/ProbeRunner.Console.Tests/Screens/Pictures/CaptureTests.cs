using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Tests.Screens.Pictures;

/// <summary>Every picture at two sizes and in ASCII, as text in the tree, so that a change of a picture is seen when it is reviewed.</summary>
public sealed class CaptureTests
{
    private const string RefreshSwitch = "PROBERUNNER_REFRESH_CAPTURES";

    public static TheoryData<string> Names => [.. PictureSamples.All.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_picture_looks_as_it_was_reviewed(string name)
    {
        var palette = new Palette(ColourDepth.Monochrome);
        string drawn = string.Join(
            '\n',
            $"{name}, 54 x 15\n",
            PictureTests.Drawn(name, 54, 15, palette),
            $"{name}, 96 x 26\n",
            PictureTests.Drawn(name, 96, 26, palette),
            $"{name}, 54 x 15, ASCII\n",
            PictureTests.Drawn(name, 54, 15, palette with { IsAscii = true }));
        string path = Path.Combine(CaptureFolder.Of("Pictures"), name + ".txt");
        if (Environment.GetEnvironmentVariable(RefreshSwitch) == "1")
        {
            Directory.CreateDirectory(CaptureFolder.Of("Pictures"));
            File.WriteAllText(path, drawn);
        }

        Assert.True(File.Exists(path), $"There is no capture of {name}; make it with {RefreshSwitch}=1 and look at it.");
        Assert.Equal(File.ReadAllText(path), drawn);
    }
}
