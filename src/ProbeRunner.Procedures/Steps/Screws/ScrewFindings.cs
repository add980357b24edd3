using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.Screws;

/// <summary>What the screws step tells a person beside its verdict.</summary>
internal static class ScrewFindings
{
    /// <summary>Findings on how the bed stands in the end.</summary>
    public static IEnumerable<Finding> On(MachineProfile profile, BedLevel first, BedLevel last, double toleranceMm)
    {
        double room = (profile.FirstLayer.HighestGapMm - profile.FirstLayer.LowestGapMm) / 2;
        double grown = Math.Abs(last.TwistMm) - Math.Abs(first.TwistMm);
        if (grown > toleranceMm)
        {
            yield return new Finding(
                "screws.strained", "The four screws pull against each other and bend the plate.", Math.Abs(last.TwistMm), "all four screws", 0.9,
                FormattableString.Invariant($"Diagonal corners stood {Math.Abs(first.TwistMm):0.000} mm off a plane at the start and {Math.Abs(last.TwistMm):0.000} mm now."),
                $"Loosen the two screws that stand too high ({Diagonal(profile, last.TwistMm)}) a little, then measure again. A plate under strain moves when it warms.");
        }
        else if (Math.Abs(last.TwistMm) > room)
        {
            yield return new Finding(
                "screws.twisted", "The bed is twisted, not only tilted.", Math.Abs(last.TwistMm), "corners", 0.9,
                FormattableString.Invariant($"Diagonal corners stand {Math.Abs(last.TwistMm):0.000} mm off a plane, alternately up and down; a first layer allows {room:0.00} mm."),
                "Don't force it flat with the screws. Look for dirt or a tight clip under the plate; a dense capture and a correction mesh take up what remains.");
        }

        if (Math.Abs(last.BendMm) > room)
        {
            yield return new Finding(
                "screws.bent", "The bed is bent, not only tilted; screws can't mend that.", Math.Abs(last.BendMm), "middle of the bed", 0.9,
                FormattableString.Invariant($"The middle stands {Math.Abs(last.BendMm):0.000} mm {(last.BendMm > 0 ? "above" : "below")} the plane through the screws; a first layer allows {room:0.00} mm."),
                "Leave the screws as they are. Look for dirt under the plate, then capture the bed densely and hand a correction mesh over, or change the plate.");
        }
    }

    /// <summary>The screws turn the other way round than the profile says.</summary>
    public static Finding OtherWayRound(double expectedMm, double measuredMm) => new(
        "screws.other-way-round", "The screws turn the other way round than the profile says.", null, "screws", 0.99,
        FormattableString.Invariant($"A trial turn should have moved the bed there by {expectedMm:+0.000;-0.000} mm; it moved by {measuredMm:+0.000;-0.000} mm."),
        "This run has turned its directions round. Correct clockwise_from_above for each screw in the machine's profile.");

    /// <summary>The trial turn did not move the bed.</summary>
    public static Finding DidNotMove(string screw, double expectedMm, double measuredMm) => new(
        "screws.did-not-move", $"Turning the {screw} screw did not move the bed as expected.", null, screw, 0.9,
        FormattableString.Invariant($"It should have moved by {expectedMm:+0.000;-0.000} mm; it moved by {measuredMm:+0.000;-0.000} mm."),
        "Check that the right screw was turned, that its spring presses against the plate, and that the pitch in the profile is right; then do this step again.");

    /// <summary>A screw has been asked for more than its spring has.</summary>
    public static Finding OutOfSpring(string screw, double needMm, double travelMm) => new(
        "screws.spring", $"The spring at the {screw} screw would run out of travel.", Math.Abs(needMm), screw, 0.8,
        FormattableString.Invariant($"It would end {Math.Abs(needMm):0.00} mm {(needMm > 0 ? "higher" : "lower")} than it was found; its spring is taken to have {travelMm:0.00} mm."),
        "Bring all screws to the middle of their springs first, level the bed roughly by hand, correct the end switch if there is one, then do this step again.");

    private static string Diagonal(MachineProfile profile, double twistMm) =>
        string.Join(" and ", profile.Screws.Where((screw, index) => IsWithFirst(profile, index) == twistMm > 0).Select(screw => screw.Name));

    /// <summary>The first screw's diagonal partner is the one farthest from it.</summary>
    private static bool IsWithFirst(MachineProfile profile, int index)
    {
        int partner = Enumerable.Range(1, profile.Screws.Length - 1).MaxBy(other => profile.Screws[0].Place.DistanceTo(profile.Screws[other].Place));
        return index == 0 || index == partner;
    }
}
