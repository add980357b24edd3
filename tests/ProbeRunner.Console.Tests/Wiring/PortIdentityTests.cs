using ProbeRunner.Console.Wiring;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Console.Tests.Wiring;

/// <summary>A port found again by its stable name, whatever number it was given this time.</summary>
public sealed class PortIdentityTests
{
    [Fact]
    public void A_port_that_was_numbered_anew_keeps_its_identity()
    {
        if (OperatingSystem.IsWindows())
        {
            return; // stable names are links of the file system on Linux
        }

        using var before = new Computer("ttyUSB0");
        using var after = new Computer("ttyUSB3");

        var then = PortIdentities.Of(new LinkAddress.Device(before.Path("dev/ttyUSB0")), before.Root);
        var now = PortIdentities.Of(new LinkAddress.Device(after.Path("dev/ttyUSB3")), after.Root);
        var byName = PortIdentities.Of(new LinkAddress.Device(after.Path("dev/serial/by-id/usb-bench")), after.Root);

        Assert.Equal("dev/serial/by-id/usb-bench", Path.GetRelativePath(before.Root, then));
        Assert.Equal("dev/serial/by-id/usb-bench", Path.GetRelativePath(after.Root, now));
        Assert.Equal(now, byName);
    }

    [Fact]
    public void A_port_without_a_stable_name_is_itself() =>
        Assert.Equal("tcp://bench:4000", PortIdentities.Of(LinkAddress.Parse("tcp://bench:4000")));

    /// <summary>The part of a file system that ports are listed from.</summary>
    private sealed class Computer : IDisposable
    {
        private readonly DirectoryInfo root = Directory.CreateTempSubdirectory("proberunner-ports-");

        public Computer(string terminal)
        {
            var hardware = Directory.CreateDirectory(Path("sys/devices/usb1/1-1/tty")).FullName;
            File.WriteAllText(Path("sys/devices/usb1/1-1/idVendor"), "1a2b\n");
            Directory.CreateDirectory(Path($"sys/class/tty/{terminal}"));
            File.CreateSymbolicLink(Path($"sys/class/tty/{terminal}/device"), hardware);
            Directory.CreateDirectory(Path("dev/serial/by-id"));
            File.WriteAllText(Path($"dev/{terminal}"), "");
            File.CreateSymbolicLink(Path("dev/serial/by-id/usb-bench"), Path($"dev/{terminal}"));
        }

        public string Root => root.FullName;

        public string Path(string below) => System.IO.Path.Combine(root.FullName, below);

        public void Dispose() => root.Delete(recursive: true);
    }
}
