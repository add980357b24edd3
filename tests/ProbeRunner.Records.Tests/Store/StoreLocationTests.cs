using ProbeRunner.Records.Store;

namespace ProbeRunner.Records.Tests.Store;

// Expected places from the XDG Base Directory Specification, version 0.8: $XDG_DATA_HOME, else $HOME/.local/share; relative paths are ignored.
public class StoreLocationTests
{
    [Fact]
    public void The_data_folder_of_the_person_comes_first() =>
        Assert.Equal(Path.Combine(Root("data"), "proberunner", "runs.db"), Location(("XDG_DATA_HOME", Root("data")), ("HOME", Root("home"))));

    [Fact]
    public void Without_one_it_is_under_the_home_folder() =>
        Assert.Equal(Path.Combine(Root("home"), ".local", "share", "proberunner", "runs.db"), Location(("HOME", Root("home"))));

    [Fact]
    public void A_relative_data_folder_is_ignored() =>
        Assert.Equal(Path.Combine(Root("home"), ".local", "share", "proberunner", "runs.db"), Location(("XDG_DATA_HOME", "data"), ("HOME", Root("home"))));

    [Fact]
    public void Without_any_folder_the_person_is_asked_for_one() =>
        Assert.Contains("--store", Assert.Throws<StoreUnusableException>(() => Location()).Message, StringComparison.Ordinal);

    private static string Root(string name) => OperatingSystem.IsWindows() ? $@"C:\{name}" : $"/{name}";

    private static string Location(params (string Name, string Value)[] variables) =>
        StoreLocation.Default(name => variables.FirstOrDefault(variable => variable.Name == name).Value);
}
