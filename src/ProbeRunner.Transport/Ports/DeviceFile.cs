using System.Globalization;
using ProbeRunner.Transport.Posix;

namespace ProbeRunner.Transport.Ports;

/// <summary>What a device's file tells about it.</summary>
internal static class DeviceFile
{
    /// <summary>The path with all symbolic links resolved; the path itself when that can't be done.</summary>
    public static string Resolve(string path)
    {
        try
        {
            return new FileInfo(path).ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? Path.GetFullPath(path);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return path;
        }
    }

    /// <summary>The name of the group that owns a device; null where that can't be told.</summary>
    public static string? GroupOf(string path)
    {
        if (!OperatingSystem.IsLinux() || Libc.GroupOf(path) is not uint group)
        {
            return null;
        }

        try
        {
            string number = group.ToString(CultureInfo.InvariantCulture);
            return File.ReadLines("/etc/group").Select(line => line.Split(':'))
                .FirstOrDefault(fields => fields.Length > 2 && fields[2] == number)?[0] ?? number;
        }
        catch (IOException)
        {
            return null;
        }
    }

    /// <summary>A process that has a device open, as far as this user can see; null when none is seen.</summary>
    public static int? HolderOf(string path)
    {
        if (!OperatingSystem.IsLinux())
        {
            return null;
        }

        string device = Resolve(path);
        foreach (string folder in Directory.EnumerateDirectories("/proc"))
        {
            if (int.TryParse(Path.GetFileName(folder), NumberStyles.None, CultureInfo.InvariantCulture, out int process)
                && process != Environment.ProcessId && HasOpen(folder, device))
            {
                return process;
            }
        }

        return null;
    }

    private static bool HasOpen(string processFolder, string device)
    {
        try
        {
            return Directory.EnumerateFileSystemEntries(Path.Combine(processFolder, "fd"))
                .Any(descriptor => File.ResolveLinkTarget(descriptor, returnFinalTarget: false)?.FullName == device);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            // Another user's process, or one that has just ended.
            return false;
        }
    }
}
