namespace ProbeRunner.Console.Tests.Screens;

/// <summary>Where the reviewed captures lie in the checkout. Found from the program's folder upwards: a deterministic build records no path of its sources.</summary>
internal static class CaptureFolder
{
    /// <summary>The folder of one kind of captures.</summary>
    public static string Of(string kind) => Path.Combine(Root(), "tests", "ProbeRunner.Console.Tests", "Screens", "Captures", kind);

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProbeRunner.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("The tests were not started from inside a checkout.");
    }
}
