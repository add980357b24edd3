using ProbeRunner.Benchmarks.Campaigns;

namespace ProbeRunner.Benchmarks;

/// <summary>What can be measured, by name.</summary>
internal static class CampaignTable
{
    /// <summary>A campaign: what it shows, and how it is run with the words that follow its name.</summary>
    internal sealed record Entry(string Purpose, Action<TextWriter, string[]> Run);

    /// <summary>All of them.</summary>
    public static IReadOnlyDictionary<string, Entry> All { get; } = new SortedDictionary<string, Entry>(StringComparer.Ordinal)
    {
        ["round-trip"] = new("send to acknowledged over a pseudo-terminal, beside a bare client", (output, _) => RoundTrip.Run(output)),
        ["simulated-nights"] = new("simulated hours per real minute", (output, _) => SimulatedNights.Run(output)),
    };
}
