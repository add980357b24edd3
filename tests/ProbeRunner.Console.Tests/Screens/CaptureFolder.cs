using ProbeRunner.Campaigns;

namespace ProbeRunner.Console.Tests.Screens;

/// <summary>Where the reviewed captures lie in the checkout. Found from the program's folder upwards: a deterministic build records no path of its sources.</summary>
internal static class CaptureFolder
{
    /// <summary>The folder of one kind of captures.</summary>
    public static string Of(string kind) =>
        Path.GetFullPath(Path.Combine(CampaignMachine.ProfilesFolder, "..", "tests", "ProbeRunner.Console.Tests", "Screens", "Captures", kind));
}
