namespace ProbeRunner.Machine.Tests;

/// <summary>Finds the files people edit, from wherever the tests run.</summary>
internal static class Repository
{
    public static string Profiles { get; } = Path.Combine(Root(), "profiles");

    private static string Root()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProbeRunner.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("ProbeRunner.sln was not found above the tests.");
    }
}
