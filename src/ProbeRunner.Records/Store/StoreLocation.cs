namespace ProbeRunner.Records.Store;

/// <summary>Where the store is when nobody says otherwise.</summary>
public static class StoreLocation
{
    /// <summary>
    /// The data folder of the person: <c>$XDG_DATA_HOME/proberunner/runs.db</c>, else <c>$HOME/.local/share/proberunner/runs.db</c>
    /// (XDG Base Directory Specification 0.8), on Windows under <c>%LOCALAPPDATA%</c>.
    /// </summary>
    /// <param name="environment">Looks an environment variable up; null when it is not set.</param>
    /// <exception cref="StoreUnusableException">None of the variables is set.</exception>
    public static string Default(Func<string, string?> environment)
    {
        ArgumentNullException.ThrowIfNull(environment);
        return Path.Combine(DataFolder(environment), "proberunner", "runs.db");
    }

    private static string DataFolder(Func<string, string?> environment)
    {
        // The specification says that a relative path is to be ignored.
        if (environment("XDG_DATA_HOME") is { } data && Path.IsPathFullyQualified(data))
        {
            return data;
        }

        if (environment("LOCALAPPDATA") is { Length: > 0 } local)
        {
            return local;
        }

        return environment("HOME") is { Length: > 0 } home
            ? Path.Combine(home, ".local", "share")
            : throw new StoreUnusableException("There is no home folder to keep the records in (HOME is not set). Say where with --store FILE.");
    }
}
