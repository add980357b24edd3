using ProbeRunner.Console.Screens.Drawing;

namespace ProbeRunner.Console.Screens.Shell;

/// <summary>A sentence for the person, shown above the footer until the next key.</summary>
/// <param name="Text">The sentence.</param>
/// <param name="Role">How it stands out.</param>
internal sealed record Notice(string Text, Role Role = Role.Accent);
