using System.Globalization;

namespace ProbeRunner.Transport.Links;

/// <summary>Where a controller is reached: a serial device, or a TCP address of a serial bridge.</summary>
public abstract record LinkAddress
{
    private LinkAddress()
    {
    }

    /// <summary>What a person wrote.</summary>
    public abstract string Text { get; }

    /// <summary>Reads an address as written after <c>--port</c>.</summary>
    /// <param name="text">A device (<c>/dev/ttyUSB0</c>, <c>COM3</c>, a pseudo-terminal) or <c>tcp://host:port</c>.</param>
    /// <exception cref="FormatException">The text is neither; the message says what is accepted.</exception>
    public static LinkAddress Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string trimmed = text.Trim();
        if (trimmed.Length == 0 || trimmed.Any(char.IsControl))
        {
            throw new FormatException($"A port is a device such as /dev/ttyUSB0 or COM3, or tcp://host:port; not “{Framing.WireText.Printable(text)}”.");
        }

        if (!trimmed.Contains("://", StringComparison.Ordinal))
        {
            return new Device(trimmed);
        }

        // Uri alone would take a missing port as -1 and a path as part of an address.
        if (Uri.TryCreate(trimmed, UriKind.Absolute, out Uri? address) && address.Scheme == "tcp" && address.Host.Length > 0
            && address.Port is >= 1 and <= 65535 && address.PathAndQuery is "/" or "")
        {
            return new Tcp(address.IdnHost, address.Port);
        }

        throw new FormatException($"A network port is written tcp://host:port with a port from 1 to 65535; not “{Framing.WireText.Printable(text)}”.");
    }

    /// <inheritdoc/>
    public sealed override string ToString() => Text;

    /// <summary>A serial device or a pseudo-terminal.</summary>
    /// <param name="Path">Its path or, on Windows, its name.</param>
    public sealed record Device(string Path) : LinkAddress
    {
        /// <inheritdoc/>
        public override string Text => Path;
    }

    /// <summary>A serial bridge on the network.</summary>
    /// <param name="Host">Its name or address.</param>
    /// <param name="Port">Its port, 1 to 65535.</param>
    public sealed record Tcp(string Host, int Port) : LinkAddress
    {
        /// <inheritdoc/>
        public override string Text => Host.Contains(':', StringComparison.Ordinal)
            ? string.Create(CultureInfo.InvariantCulture, $"tcp://[{Host}]:{Port}")
            : string.Create(CultureInfo.InvariantCulture, $"tcp://{Host}:{Port}");
    }
}
