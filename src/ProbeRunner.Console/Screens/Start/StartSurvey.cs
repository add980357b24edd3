using System.Collections.Immutable;
using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;
using ProbeRunner.SimulatedPrinter.Scenarios;
using ProbeRunner.Transport.Framing;
using ProbeRunner.Transport.Ports;

namespace ProbeRunner.Console.Screens.Start;

/// <summary>Looks for machines, ports, scripts and runs. One thing that can't be read does not hide the others.</summary>
internal static class StartSurvey
{
    /// <summary>The port that takes a first visitor by the hand.</summary>
    public const string SimulatedName = "simulated:";

    /// <summary>Looks for everything.</summary>
    /// <param name="context">The program's surroundings.</param>
    /// <param name="storePath">The store's file.</param>
    public static StartFacts Take(ProgramContext context, string storePath)
    {
        var troubles = new List<string>();
        var catalogue = ProgramFolders.Profiles(context);
        return new StartFacts(
            [.. catalogue.Names(ProfileKind.Machine).Select(name => Machine(catalogue, name))],
            [.. RealPorts(troubles), .. SimulatedPorts(context)],
            [.. catalogue.Names(ProfileKind.RunScript).OrderBy(Order).Select(name => Script(catalogue, name))],
            Runs(storePath, troubles),
            [.. troubles]);
    }

    private static MachineChoice Machine(ProfileCatalogue catalogue, string name)
    {
        try
        {
            var profile = catalogue.Machine(name);
            return new MachineChoice(name, profile.Title, profile, null);
        }
        catch (FileFaultException fault)
        {
            return new MachineChoice(name, "its file has faults", null, fault.Message);
        }
    }

    private static ScriptChoice Script(ProfileCatalogue catalogue, string name)
    {
        try
        {
            return new ScriptChoice(name, RunScript.Load(catalogue.Locate(ProfileKind.RunScript, name)), null);
        }
        catch (FileFaultException fault)
        {
            return new ScriptChoice(name, null, fault.Message);
        }
    }

    /// <summary>In the order a new machine meets them; a person's own scripts after them.</summary>
    private static int Order(string name) =>
        ImmutableArray.Create("commission", "trust-probe", "level-screws", "set-offset", "map-bed", "check-first-layer").IndexOf(name) is var at and >= 0 ? at : int.MaxValue;

    private static IEnumerable<PortChoice> RealPorts(List<string> troubles)
    {
        try
        {
            return [.. PortCatalogue.List().Select(port => new PortChoice(port.StableName, Path.GetFileName(port.Device), Detail(port)))];
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            troubles.Add($"The ports could not be listed: {failure.Message}");
            return [];
        }
    }

    private static string Detail(PortEntry port) =>
        WireText.Printable(string.Join("  ", new[] { port.Product, port.StableName == port.Device ? port.Device : Path.GetFileName(port.StableName) }.Where(part => !string.IsNullOrEmpty(part))));

    private static IEnumerable<PortChoice> SimulatedPorts(ProgramContext context)
    {
        foreach (var name in ProgramFolders.ScenarioNames(context).OrderBy(name => name != "good"))
        {
            Scenario scenario;
            try
            {
                scenario = ScenarioFile.Load(name);
            }
            catch (ScenarioException)
            {
                continue;
            }

            yield return new PortChoice(SimulatedName + name, $"simulated printer: {name}", scenario.Title, name, DemoMachine.Of(name));
        }
    }

    private static ImmutableArray<RunListing> Runs(string storePath, List<string> troubles)
    {
        if (!File.Exists(storePath))
        {
            return [];
        }

        try
        {
            return RunStore.OpenExisting(storePath).List();
        }
        catch (StoreUnusableException unusable)
        {
            troubles.Add(unusable.Message);
            return [];
        }
    }
}
