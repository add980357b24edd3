using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Comparison;
using ProbeRunner.Metrology.Series;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.TouchTuning;

/// <summary>A manner's touches in rounds, and how they compare with the reference's.</summary>
internal sealed class CandidateTally(TouchManner manner)
{
    /// <summary>How it touches.</summary>
    public TouchManner Manner { get; } = manner;

    /// <summary>One height a round, mm.</summary>
    public List<double> Heights { get; } = [];

    /// <summary>From the reading before to this one, s.</summary>
    public List<double> Seconds { get; } = [];

    /// <summary>Whether it is left out of further rounds.</summary>
    public bool IsDropped { get; set; }

    /// <summary>Median time of a touch, s.</summary>
    public double SecondsPerTouch => Seconds.Count == 0 ? 0 : Moments.Median(Seconds);

    /// <summary>Against the reference of the same rounds.</summary>
    public InterleavedEquivalence Against(CandidateTally before, CandidateTally after, EquivalenceLimits limits) => InterleavedEquivalence
        .Of(before.Heights[..Heights.Count], Heights, after.Heights[..Heights.Count], limits).Value;
}

/// <summary>What a set of rounds gave.</summary>
/// <param name="Before">The reference at the beginning of each round.</param>
/// <param name="After">The reference at its end.</param>
/// <param name="Candidates">Those tried, from the reference's nearest to its farthest.</param>
internal sealed record RoundsTaken(CandidateTally Before, CandidateTally After, List<CandidateTally> Candidates)
{
    /// <summary>The last of those that are equivalent without a gap before it: judged in order, the first that fails ends it, which keeps the risk of all together at that of one.</summary>
    public CandidateTally? Best(EquivalenceLimits limits) =>
        Candidates.TakeWhile(candidate => candidate.Against(Before, After, limits).IsEquivalent).LastOrDefault();
}

/// <summary>Touches one place in rounds: reference, candidates in an order that changes, reference; what drifts then touches all alike.</summary>
internal sealed class TuningRounds(StepContext context, BedPoint at, int rounds, EquivalenceLimits limits)
{
    private double? _feed;
    private DateTimeOffset _lastAt;

    /// <summary>Takes the rounds. A candidate that differs for certain after half of them is left out of the rest, and so are those beyond it.</summary>
    public async Task<RoundsTaken> TakeAsync(string section, TouchManner reference, IReadOnlyList<TouchManner> manners) =>
        await context.InSectionAsync(section, Retake.WhenDatumLost, (rounds * (manners.Count + 2)) + 1, async () =>
        {
            var taken = new RoundsTaken(new(reference), new(reference), [.. manners.Select(manner => new CandidateTally(manner))]);
            SeededChance chance = context.Chance(section, "order");
            _feed = null;
            await TouchAsync(new CandidateTally(reference), 1); // the way here, and the first touch after standing still, count for nobody
            for (int round = 1; round <= rounds; round++)
            {
                await TouchAsync(taken.Before, round);
                foreach (CandidateTally candidate in taken.Candidates.Where(candidate => !candidate.IsDropped).OrderBy(_ => chance.Next()).ToList())
                {
                    await TouchAsync(candidate, round);
                }

                await TouchAsync(taken.After, round);
                if (round == rounds / 2 && round >= 6)
                {
                    Drop(taken);
                }
            }

            return taken;
        });

    private void Drop(RoundsTaken taken)
    {
        int hopeless = taken.Candidates.FindIndex(candidate => candidate.Against(taken.Before, taken.After, limits).IsHopeless);
        foreach (CandidateTally candidate in hopeless < 0 ? [] : taken.Candidates[hopeless..])
        {
            candidate.IsDropped = true;
        }
    }

    private async Task TouchAsync(CandidateTally tally, int round)
    {
        TouchManner manner = tally.Manner;
        if (manner.FeedMmPerMin is { } feed && feed != _feed)
        {
            await context.DoAsync(new LimitZFeed(feed));
            _feed = feed;
        }

        if (manner.ExtraLiftMm > 0)
        {
            await context.DoAsync(new LiftHigher(manner.ExtraLiftMm));
        }

        Reading reading = await context.DoAsync(new TouchAt(at, round));
        tally.Seconds.Add((reading.At - _lastAt).TotalSeconds);
        tally.Heights.Add(reading.Z);
        _lastAt = reading.At;
    }
}
