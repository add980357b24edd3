using System.Collections.Concurrent;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.SimulatedPrinter.Hosting;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Campaigns;

/// <summary>A simulated printer in this process and the real printer connected to it, on one clock.</summary>
internal sealed class CampaignMachine : IAsyncDisposable
{
    private static readonly Lazy<ProfileCatalogue> Shipped = new(() => new ProfileCatalogue([ProfilesFolder]));
    private static readonly ConcurrentDictionary<string, Dialect> Dialects = new(); // its patterns are costly to read

    private CampaignMachine(SimulatedPrinterHost host, Printer printer) => (Host, Printer) = (host, printer);

    public SimulatedPrinterHost Host { get; }

    public Printer Printer { get; private set; }

    /// <summary>The folder of profiles above the program's own.</summary>
    public static string ProfilesFolder
    {
        get
        {
            var folder = new DirectoryInfo(AppContext.BaseDirectory);
            while (!File.Exists(Path.Combine(folder.FullName, "ProbeRunner.sln")))
            {
                folder = folder.Parent!;
            }

            return Path.Combine(folder.FullName, "profiles");
        }
    }

    /// <summary>The shipped profile of a machine.</summary>
    public static MachineProfile Profile(string machine) => Shipped.Value.Machine(machine);

    /// <summary>Starts a machine and connects to it.</summary>
    /// <param name="time">The clock.</param>
    /// <param name="scenario">What the machine really is.</param>
    /// <param name="profile">What its owner believes; the shipped profile when null.</param>
    public static async Task<CampaignMachine> StartAsync(TimeProvider time, Scenario scenario, MachineProfile? profile = null)
    {
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("campaign");
        SimulatedPrinterHost host = SimulatedPrinterHost.Start(far, scenario, time);
        return new CampaignMachine(host, await ConnectAsync(time, near, profile ?? Profile(scenario.MachineName)));
    }

    /// <summary>Power cut and a new session with the same machine.</summary>
    public async Task ComeBackAsync(TimeProvider time)
    {
        MachineProfile profile = Printer.Profile;
        Host.PullCable();
        await Printer.DisposeAsync();
        Host.PowerCycle();
        (DuplexLink near, DuplexLink far) = DuplexLink.CreatePair("campaign");
        Host.Plug(far);
        Printer = await ConnectAsync(time, near, profile);
    }

    public async ValueTask DisposeAsync()
    {
        await Printer.DisposeAsync();
        await Host.DisposeAsync();
    }

    private static async Task<Printer> ConnectAsync(TimeProvider time, ILink near, MachineProfile profile)
    {
        Dialect dialect = Dialects.GetOrAdd(profile.Dialect, Shipped.Value.Dialect);
        return await Printer.ConnectAsync(new CommandChannel(near, dialect, time, dialect.ChannelOptions), dialect, profile, time);
    }
}
