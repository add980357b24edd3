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
        ["check-again"] = new("beds checked again after a screw was turned by known amounts [SEEDS]", (output, words) => CheckAgainCampaign.Run(output, Beds(words))),
        ["coverage"] = new("how much of the bed lies within the map's 95 % intervals [BEDS]", (output, words) => CoverageCampaign.Run(output, Beds(words))),
        ["first-layer"] = new("correction of the first-layer check against the truth [SEEDS]", (output, words) => FirstLayerCampaign.Run(output, Count(words, 50))),
        ["guided"] = new("the guided capture, step, wire and all, on the suite's beds [BEDS [FIRST]]", (output, words) => GuidedCampaign.Run(output, Beds(words), Count([.. words.Skip(1)], 1000))),
        ["joint-model"] = new("time to fit and to map 900 to 10,000 readings", (output, words) => JointModelTimes.Run(output, Beds(words))),
        ["lean"] = new("slope of a leaning gantry against the truth, and prompts of a run [SEEDS]", (output, words) => LeanCampaign.Run(output, Beds(words))),
        ["kills"] = new("kill -9 of a warm capture with its guardian, at random moments [KILLS [SEED]]", (output, words) => KillCampaign.Run(output, Beds(words), Count([.. words.Skip(1)], 1))),
        ["endings"] = new("heaters off after a hang and after each signal to end [TIMES]", (output, words) => EndingCampaign.Run(output, Beds(words))),
        ["map"] = new("touches to a map of a wanted accuracy, beside the plain grid [BEDS]", (output, words) => MapCampaign.Run(output, Beds(words))),
        ["memory"] = new("what a capture of 100,000 touches holds in memory", (output, _) => MemoryCampaign.Run(output)),
        ["mesh"] = new("correction mesh fitted against sampled [BEDS]", (output, words) => MeshCampaign.Run(output, Beds(words))),
        ["minimum-zone"] = new("time of the minimum zone of 100 to 100,000 points", (output, words) => MinimumZoneTimes.Run(output, Beds(words))),
        ["night"] = new("1,600 places x 3 over a drifting night with two power cuts, map against truth", (output, _) => NightCampaign.Run(output)),
        ["offset"] = new("probe offset in X and Y by mark and find, against the truth [SEEDS]", (output, words) => OffsetCampaign.Run(output, Beds(words))),
        ["operators"] = new("promises kept whatever a person answers at the paper [OPERATORS]", (output, words) => OperatorsCampaign.Run(output, Count(words, 10_000))),
        ["paper"] = new("prompts to the paper threshold, by the person's own scatter", (output, _) => PaperCampaign.Run(output)),
        ["round-trip"] = new("send to acknowledged over a pseudo-terminal, beside a bare client", (output, _) => RoundTrip.Run(output)),
        ["screws"] = new("rounds of turning until a crooked bed is level, against the truth [SEEDS]", (output, words) => ScrewsCampaign.Run(output, Count(words, 100))),
        ["simulated-nights"] = new("simulated hours per real minute", (output, _) => SimulatedNights.Run(output)),
        ["touch-tuning"] = new("feeds chosen by touch tuning, and how often wrongly [SEEDS]", (output, words) => TouchTuningCampaign.Run(output, Beds(words))),
        ["warm-up"] = new("warm-up watches: settled too early, wait against the truth [SEEDS]", (output, words) => WarmUpCampaign.Run(output, Beds(words))),
        ["step-down"] = new("error of the paper offset against the truth, and what it costs a person [SEEDS]", (output, words) => StepDownCampaign.Run(output, Count(words, 200))),
        ["verdict"] = new("touches to a verdict and its error rates, by kind of scatter", (output, _) => VerdictCampaign.Run(output)),
    };

    /// <summary>How many beds: the first word that follows the campaign's name, 200 unless given.</summary>
    private static int Beds(string[] words) => Count(words, 200);

    /// <summary>The first word that follows the campaign's name, or what is usual.</summary>
    private static int Count(string[] words, int usual) =>
        words.Length > 0 && int.TryParse(words[0], System.Globalization.CultureInfo.InvariantCulture, out int count) && count > 0 ? count : usual;
}
