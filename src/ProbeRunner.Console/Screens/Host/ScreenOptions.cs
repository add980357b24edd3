namespace ProbeRunner.Console.Screens.Host;

/// <summary>How the screens are to look, as given on the command line.</summary>
/// <param name="Colour">"auto", "true", "16" or "never".</param>
/// <param name="Ground">"auto", "dark" or "light".</param>
/// <param name="Ascii">Whether only ASCII is shown.</param>
/// <param name="Mouse">Whether the mouse is listened to; without it the terminal selects text as usual.</param>
/// <param name="Store">The store's file; null for the usual place.</param>
/// <param name="SimulatedSpeed">How many times faster than real the simulated printer goes; 20 shows two touches a second, so that they can be watched.</param>
internal sealed record ScreenOptions(string Colour = "auto", string Ground = "auto", bool Ascii = false, bool Mouse = true, string? Store = null, double SimulatedSpeed = 20);
