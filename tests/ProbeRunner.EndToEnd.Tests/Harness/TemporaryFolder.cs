namespace ProbeRunner.EndToEnd.Tests.Harness;

/// <summary>A folder that is gone when the test is over.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("proberunner-test-");

    /// <summary>A path inside.</summary>
    public string File(string name) => Path.Combine(folder.FullName, name);

    /// <inheritdoc />
    public void Dispose()
    {
        try
        {
            folder.Delete(recursive: true);
        }
        catch (IOException)
        {
            // A guardian outlives the program it watched for a moment, and its log came while the folder went. What is left lies among temporary files.
        }
    }
}
