using ProbeRunner.Console.Commands;

namespace ProbeRunner.Console.Notices;

/// <summary>Whom to tell when a run ends, stops or needs a person.</summary>
/// <param name="Command">A command line for the system's shell, which gets the notice on its standard input; null for none.</param>
/// <param name="Url">Where the notice is posted; null for nowhere.</param>
internal sealed record NoticeSettings(string? Command, string? Url)
{
    /// <summary>Nobody.</summary>
    public static NoticeSettings None { get; } = new(null, null);

    /// <summary>Whether nobody is told.</summary>
    public bool AreEmpty => Command is null && Url is null;

    /// <summary>Checks what was given.</summary>
    /// <exception cref="UsageException">The address is none that can be posted to.</exception>
    public static NoticeSettings Of(string? command, string? url)
    {
        if (url is not null && !(Uri.TryCreate(url, UriKind.Absolute, out var address) && address.Scheme is "http" or "https"))
        {
            throw new UsageException("--notify-url takes an address that begins with http:// or https://.");
        }

        return new NoticeSettings(string.IsNullOrWhiteSpace(command) ? null : command, url);
    }
}
