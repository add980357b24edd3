namespace ProbeRunner.Transport.Links;

/// <summary>The far end of a link vanished: cable pulled, controller switched off, connection closed.</summary>
/// <param name="linkName">The link's name, as a person knows it.</param>
/// <param name="inner">What the operating system said, if it said something.</param>
public sealed class LinkLostException(string linkName, Exception? inner = null)
    : IOException($"The connection to {linkName} is gone. Check the cable and the printer's power; the heaters' state is unknown until it answers again.", inner)
{
    /// <summary>The link's name, as a person knows it.</summary>
    public string LinkName { get; } = linkName;
}
