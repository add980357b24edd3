using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Ports;

namespace ProbeRunner.Console.Wiring;

/// <summary>The identity of a port that survives re-plugging and re-numbering.</summary>
internal static class PortIdentities
{
    /// <summary>The stable name where the hardware has one; otherwise the address as given.</summary>
    /// <param name="address">The address as given.</param>
    /// <param name="root">The folder that takes the place of the file system's root, for tests.</param>
    public static string Of(LinkAddress address, string root = "/")
    {
        if (address is not LinkAddress.Device device)
        {
            return address.Text;
        }

        var real = RealPath(device.Path);
        return PortCatalogue.List(root).FirstOrDefault(port => port.Device == real)?.StableName ?? device.Path;
    }

    private static string RealPath(string path)
    {
        try
        {
            return new FileInfo(path).ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? path;
        }
        catch (IOException)
        {
            return path;
        }
    }
}
