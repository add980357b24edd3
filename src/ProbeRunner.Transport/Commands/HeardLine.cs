namespace ProbeRunner.Transport.Commands;

/// <summary>A received line with its meaning; <see cref="Silence"/> stands for a deadline that passed.</summary>
/// <param name="Text">The line, raw; null for silence.</param>
/// <param name="Meaning">What it means.</param>
internal readonly record struct HeardLine(string? Text, ClassifiedLine Meaning)
{
    public static HeardLine Silence => default;

    public bool IsSilence => Text is null;
}
