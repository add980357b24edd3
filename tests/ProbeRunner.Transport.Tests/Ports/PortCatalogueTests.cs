using ProbeRunner.Transport.Ports;

namespace ProbeRunner.Transport.Tests.Ports;

public sealed class PortCatalogueTests : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("ports").FullName;

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Fact]
    public void A_USB_port_is_listed_with_its_stable_name_and_what_it_says_of_itself()
    {
        AddPort("ttyUSB0", "devices/pci0/usb1/1-2/1-2:1.0/ttyUSB0", type: null);
        Write("sys/devices/pci0/usb1/1-2/idVendor", "f00d\n");
        Write("sys/devices/pci0/usb1/1-2/idProduct", "0042\n");
        Write("sys/devices/pci0/usb1/1-2/product", "Bench controller\n");
        Write("sys/devices/pci0/usb1/1-2/serial", "W240-7\n");
        Link("dev/serial/by-id/usb-Bench_controller_W240-7-if00", "../../ttyUSB0");

        PortEntry port = Assert.Single(PortCatalogue.List(_root));
        Assert.Equal(Path.Combine(_root, "dev/ttyUSB0"), port.Device);
        Assert.Equal(Path.Combine(_root, "dev/serial/by-id/usb-Bench_controller_W240-7-if00"), port.StableName);
        Assert.Equal(("Bench controller", "f00d", "0042", "W240-7"), (port.Product, port.VendorId, port.ProductId, port.SerialNumber));
    }

    [Fact]
    public void Built_in_ports_come_last_and_those_without_hardware_not_at_all()
    {
        AddPort("ttyS0", "devices/platform/serial/ttyS0", type: "4");
        AddPort("ttyS1", "devices/platform/serial/ttyS1", type: "0");
        AddPort("ttyACM0", "devices/usb/1-1/1-1:1.0/ttyACM0", type: null);
        Write("sys/devices/usb/1-1/idVendor", "f00d");
        Write("sys/class/tty/tty1/dev", "4:1");
        Write("dev/tty1", string.Empty);

        Assert.Equal(["ttyACM0", "ttyS0"], PortCatalogue.List(_root).Select(port => Path.GetFileName(port.Device)));
        Assert.All(PortCatalogue.List(_root), port => Assert.Equal(port.Device, port.StableName));
    }

    [Fact]
    public void A_computer_without_ports_lists_none() => Assert.Empty(PortCatalogue.List(_root));

    [Fact]
    public void This_computers_ports_can_be_listed() => Assert.All(PortCatalogue.List(), port => Assert.NotEmpty(port.Device));

    private void AddPort(string name, string hardware, string? type)
    {
        Write($"dev/{name}", string.Empty);
        Write($"sys/{hardware}/tty/{name}/dev", "188:0");
        if (type is not null)
        {
            Write($"sys/{hardware}/tty/{name}/type", type);
        }

        Link($"sys/{hardware}/tty/{name}/device", "../..");
        Link($"sys/class/tty/{name}", $"../../{hardware}/tty/{name}");
    }

    private void Write(string path, string text)
    {
        string whole = Path.Combine(_root, path);
        Directory.CreateDirectory(Path.GetDirectoryName(whole)!);
        File.WriteAllText(whole, text);
    }

    private void Link(string path, string target)
    {
        string whole = Path.Combine(_root, path);
        Directory.CreateDirectory(Path.GetDirectoryName(whole)!);
        File.CreateSymbolicLink(whole, target);
    }
}
