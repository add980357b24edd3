using System.Collections.Immutable;
using System.IO.Ports;

namespace ProbeRunner.Transport.Ports;

/// <summary>Lists the serial ports of this computer. Pseudo-terminals are not listed: whoever makes one knows its name.</summary>
public static class PortCatalogue
{
    /// <summary>The ports there are now, USB devices first, then by device.</summary>
    /// <param name="root">The folder that takes the place of the file system's root, for tests; Linux only.</param>
    public static ImmutableArray<PortEntry> List(string root = "/")
    {
        ArgumentException.ThrowIfNullOrEmpty(root);
        IEnumerable<PortEntry> ports = OperatingSystem.IsLinux() || root != "/" ? OfLinux(root)
            : OperatingSystem.IsMacOS() ? Plain(Directory.EnumerateFiles("/dev", "cu.*"))
            : Plain(SerialPort.GetPortNames());
        return [.. ports.OrderBy(port => port.VendorId is null).ThenBy(port => port.Device, StringComparer.Ordinal)];
    }

    private static IEnumerable<PortEntry> Plain(IEnumerable<string> names)
        => names.Select(name => new PortEntry(name, name, null, null, null, null));

    private static IEnumerable<PortEntry> OfLinux(string root)
    {
        ILookup<string, string> stableNames = StableNames(Path.Combine(root, "dev/serial/by-id"));
        string terminals = Path.Combine(root, "sys/class/tty");
        if (!Directory.Exists(terminals))
        {
            yield break;
        }

        foreach (string terminal in Directory.EnumerateFileSystemEntries(terminals))
        {
            string name = Path.GetFileName(terminal);
            string device = Path.Combine(root, "dev", name);
            string? hardware = FinalTarget(Path.Combine(terminal, "device"));
            if (hardware is null || !File.Exists(device) || IsEmptySocket(terminal))
            {
                continue;
            }

            string? usb = ClimbTo(hardware, "idVendor", root);
            yield return new PortEntry(
                device,
                stableNames[name].Order(StringComparer.Ordinal).FirstOrDefault(device),
                usb is null ? null : FirstLine(Path.Combine(usb, "product")),
                usb is null ? null : FirstLine(Path.Combine(usb, "idVendor")),
                usb is null ? null : FirstLine(Path.Combine(usb, "idProduct")),
                usb is null ? null : FirstLine(Path.Combine(usb, "serial")));
        }
    }

    private static ILookup<string, string> StableNames(string folder)
    {
        IEnumerable<string> links = Directory.Exists(folder) ? Directory.EnumerateFileSystemEntries(folder) : [];
        return links
            .Select(link => (Link: link, Target: FinalTarget(link)))
            .Where(pair => pair.Target is not null)
            .ToLookup(pair => Path.GetFileName(pair.Target!), pair => pair.Link);
    }

    /// <summary>Built-in ports that the kernel provides for without any hardware behind them say type 0.</summary>
    private static bool IsEmptySocket(string terminal) => FirstLine(Path.Combine(terminal, "type")) == "0";

    private static string? ClimbTo(string folder, string file, string root)
    {
        string stop = Path.TrimEndingDirectorySeparator(Path.GetFullPath(root));
        for (string? at = folder; at is not null && at.Length > stop.Length; at = Path.GetDirectoryName(at))
        {
            if (File.Exists(Path.Combine(at, file)))
            {
                return at;
            }
        }

        return null;
    }

    /// <summary>Where a path leads with every link in it resolved, parents included; null when it leads nowhere.</summary>
    private static string? FinalTarget(string path)
    {
        try
        {
            string folder = Path.GetDirectoryName(path)!;
            string parent = new DirectoryInfo(folder).ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? folder;
            var entry = new DirectoryInfo(Path.Combine(parent, Path.GetFileName(path)));
            string target = entry.ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? entry.FullName;
            return Directory.Exists(target) || File.Exists(target) ? target : null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static string? FirstLine(string file)
    {
        try
        {
            return File.ReadLines(file).FirstOrDefault()?.Trim() is { Length: > 0 } line ? line : null;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
