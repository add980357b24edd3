using ProbeRunner.Transport.Links;
using ProbeRunner.Transport.Ports;

namespace ProbeRunner.Console.Wiring;

/// <summary>The identity of a port that survives re-plugging and re-numbering.</summary>
internal static class PortIdentities
{
    /// <summary>The stable name where the hardware has one; otherwise the address as given.</summary>
    public static string Of(LinkAddress address)
    {
        if (address is not LinkAddress.Device device)
        {
            return address.Text;
        }

        var real = RealPath(device.Path);
        return PortCatalogue.List().FirstOrDefault(port => port.Device == real)?.StableName ?? device.Path;
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
