using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>Where a senses channel listens: a number is a TCP port of this computer, anything else the path of a Unix socket.</summary>
internal static class SensesPlace
{
    public static EndPoint Parse(string place) =>
        ushort.TryParse(place, NumberStyles.None, CultureInfo.InvariantCulture, out var port)
            ? new IPEndPoint(IPAddress.Loopback, port)
            : new UnixDomainSocketEndPoint(place);

    public static string Describe(EndPoint endPoint) => endPoint is IPEndPoint tcp
        ? tcp.Port.ToString(CultureInfo.InvariantCulture)
        : endPoint.ToString() ?? "";
}
