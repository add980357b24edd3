using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Profiles;

namespace ProbeRunner.Machine.Tests;

/// <summary>The files that are shipped, read once.</summary>
internal static class Shipped
{
    public static ProfileCatalogue Catalogue { get; } = new([Repository.Profiles]);

    public static Dialect LineAck { get; } = Catalogue.Dialect("line-ack");

    public static MachineProfile Wren { get; } = Catalogue.Machine("wren-240");

    public static MachineProfile Heron { get; } = Catalogue.Machine("heron-330");
}
