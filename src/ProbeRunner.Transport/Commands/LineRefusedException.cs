using System.Globalization;

namespace ProbeRunner.Transport.Commands;

/// <summary>The controller refused a line again and again.</summary>
/// <param name="text">The command that was refused.</param>
/// <param name="attempts">How often it was sent.</param>
/// <param name="lastError">The controller's last error line, raw; null when it gave none.</param>
public sealed class LineRefusedException(string text, int attempts, string? lastError) : IOException(string.Create(
    CultureInfo.InvariantCulture,
    $"The controller refused a line {attempts} times. The connection damages what is sent; the line was not carried out. Try another cable or a lower speed."))
{
    /// <summary>The command that was refused.</summary>
    public string Text { get; } = text;

    /// <summary>How often it was sent.</summary>
    public int Attempts { get; } = attempts;

    /// <summary>The controller's last error line, raw; null when it gave none.</summary>
    public string? LastError { get; } = lastError;
}
