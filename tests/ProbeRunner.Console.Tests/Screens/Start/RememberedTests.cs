using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.Start;

namespace ProbeRunner.Console.Tests.Screens.Start;

public sealed class RememberedTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("proberunner-test-");

    [Fact]
    public void What_is_remembered_comes_back_whatever_the_names_are()
    {
        var remembered = new Remembered("bench \"two\"", @"C:\ports\COM3", Visited: true);
        Assert.Null(remembered.Save(Context));
        Assert.Equal(remembered, Remembered.Load(Context));
    }

    [Fact]
    public void A_file_that_cannot_be_read_counts_as_nothing_remembered()
    {
        Directory.CreateDirectory(Path.Combine(folder.FullName, "proberunner"));
        File.WriteAllText(Path.Combine(folder.FullName, "proberunner", "screens.toml"), "machine = [[[");
        Assert.Equal(new Remembered(), Remembered.Load(Context));
    }

    public void Dispose() => folder.Delete(recursive: true);

    private ProgramContext Context => new(
        TextWriter.Null, TextWriter.Null, TextReader.Null, TimeProvider.System, name => name == "XDG_CONFIG_HOME" ? folder.FullName : null, AppContext.BaseDirectory, false);
}
