namespace ProbeRunner.Records.Tests;

/// <summary>A folder for one test, gone afterwards.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("records-");

    public string Path => _folder.FullName;

    public string PathOf(string name) => System.IO.Path.Combine(_folder.FullName, name);

    public void Dispose() => _folder.Delete(recursive: true);
}
