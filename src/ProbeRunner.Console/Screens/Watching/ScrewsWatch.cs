using System.Collections.Immutable;
using System.Globalization;
using ProbeRunner.Console.Screens.Pictures;
using ProbeRunner.Console.Screens.Pictures.Bed;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Operators;

namespace ProbeRunner.Console.Screens.Watching;

/// <summary>The picture of the screws while they are turned.</summary>
internal static class ScrewsWatch
{
    private const double UsualToleranceMm = 0.02;

    /// <summary>Before anything was measured.</summary>
    public static ScrewsState Unmeasured(MachineProfile profile) => new(
        BedOutline.Of(profile), [.. profile.Screws.Select(screw => new ScrewMark(screw.Name, screw.Place, null, 0, 0, false))], UsualToleranceMm, string.Empty);

    /// <summary>After an event.</summary>
    public static ScrewsState After(ScrewsState state, RunEvent told, MachineProfile profile) => told switch
    {
        ScrewsMeasured e => state with { Screws = Marks(e.Round, e.Turns, profile), ToleranceMm = e.ToleranceMm, Round = e.Round.Name },
        PromptAsked { Prompt: { Id: PromptIds.ScrewsTurn } asked } => Asked(state, asked.About, profile),
        AnswerGiven { PromptId: PromptIds.ScrewsTurn } => state with
        {
            Screws = [.. state.Screws.Select(screw => screw.IsNow ? screw with { IsNow = false, Turns = 0, RiseMm = 0 } : screw)],
        },
        _ => state,
    };

    /// <summary>Once it is concluded.</summary>
    public static ScrewsState Concluded(ScrewsConclusion concluded, MachineProfile profile) => concluded.Rounds.IsDefaultOrEmpty
        ? Unmeasured(profile)
        : new ScrewsState(BedOutline.Of(profile), Marks(concluded.Rounds[^1], [], profile), concluded.ToleranceMm, concluded.Rounds[^1].Name);

    private static ImmutableArray<ScrewMark> Marks(ScrewRound round, ImmutableArray<double> turns, MachineProfile profile) =>
    [
        .. round.Screws.Select((screw, index) =>
        {
            double turn = index < turns.Length ? turns[index] : 0;
            return new ScrewMark(screw.Name, screw.Place, screw.HeightMm, turn, Rise(profile, screw.Name, turn), false);
        }),
    ];

    /// <summary>What is asked for counts, also where it differs from what was planned.</summary>
    private static ScrewsState Asked(ScrewsState state, string about, MachineProfile profile)
    {
        int space = about.LastIndexOf(' ');
        return space > 0 && double.TryParse(about[(space + 1)..], NumberStyles.Float, CultureInfo.InvariantCulture, out double turns)
            ? state with
            {
                Screws =
                [
                    .. state.Screws.Select(screw => screw.Name == about[..space]
                        ? screw with { IsNow = true, Turns = turns, RiseMm = Rise(profile, screw.Name, turns) }
                        : screw with { IsNow = false }),
                ],
            }
            : state;
    }

    private static double Rise(MachineProfile profile, string name, double turns) =>
        profile.Screws.FirstOrDefault(screw => screw.Name == name) is { } screw ? turns * screw.PitchMm * (screw.ClockwiseRaises ? 1 : -1) : 0;
}
