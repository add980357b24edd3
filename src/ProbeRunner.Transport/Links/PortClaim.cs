using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using ProbeRunner.Transport.Ports;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Links;

/// <summary>
/// Keeps a second console off a port, before it is opened (opening alone can restart a controller): a file locked as long as the process
/// lives, named after the device that the port's name leads to, or the place on the network. The operating system's own exclusive use does not bind the superuser.
/// </summary>
internal sealed class PortClaim : IDisposable
{
    private readonly FileStream _file;
    private readonly string _path;

    private PortClaim(FileStream file, string path) => (_file, _path) = (file, path);

    /// <summary>Claims a device.</summary>
    /// <param name="port">Any of the device's names.</param>
    /// <param name="folder">Where the files lie; null for the user's runtime folder.</param>
    /// <exception cref="PortOpenException">Another console has it.</exception>
    public static PortClaim OfDevice(string port, string? folder) => Take(port, DeviceFile.Resolve(port), folder);

    /// <summary>Claims a place on the network.</summary>
    /// <param name="address">As written.</param>
    /// <param name="folder">Where the files lie; null for the user's runtime folder.</param>
    /// <exception cref="PortOpenException">Another console on this computer has it.</exception>
    public static PortClaim OfAddress(string address, string? folder) => Take(address, address, folder);

    /// <summary>Notes the process that holds the device on when this one dies.</summary>
    public void NoteHeir(int process) => File.WriteAllText(HeirFile(_path), process.ToString(CultureInfo.InvariantCulture));

    /// <summary>Whether the process that an earlier holder noted is still there.</summary>
    public bool IsHeirAtWork() => NumberIn(HeirFile(_path)) is { } heir && Libc.Signal(heir, 0) == 0;

    /// <summary>Gives the port back. The file stays: removing it could remove another's claim.</summary>
    public void Dispose() => _file.Dispose();

    private static PortClaim Take(string port, string identity, string? folder)
    {
        string path = Path.Combine(Folder(folder), NameOf(identity));
        try
        {
            var file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, bufferSize: 1);
            File.WriteAllText(HolderFile(path), Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
            return new PortClaim(file, path);
        }
        catch (IOException taken) when (taken is not (DirectoryNotFoundException or FileNotFoundException))
        {
            throw PortProblems.InUse(port, HolderIn(path), taken);
        }
        catch (UnauthorizedAccessException another)
        {
            // Another user's claim: whether it is still held can't be told from here, but the lock on the device itself will.
            throw PortProblems.InUse(port, HolderIn(path), another);
        }
    }

    private static string Folder(string? chosen)
    {
        string folder = chosen
            ?? Path.Combine(
                Environment.GetEnvironmentVariable("XDG_RUNTIME_DIR") is { Length: > 0 } runtime ? runtime : Path.GetTempPath(),
                $"proberunner-{Environment.UserName}");
        Directory.CreateDirectory(folder);
        return folder;
    }

    private static string NameOf(string identity)
        => $"port-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(identity)).AsSpan(0, 8))}.lock";

    /// <summary>A file of its own, since a locked one can't be read.</summary>
    private static string HolderFile(string path) => Path.ChangeExtension(path, ".process");

    private static string HeirFile(string path) => Path.ChangeExtension(path, ".guardian");

    private static int? HolderIn(string path) => NumberIn(HolderFile(path));

    private static int? NumberIn(string file)
    {
        try
        {
            string text = File.ReadAllText(file);
            return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int process) ? process : null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
