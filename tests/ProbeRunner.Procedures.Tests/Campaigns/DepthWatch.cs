using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Campaigns;

/// <summary>
/// Judges how deep the nozzle was sent, by the run's own facts and a reckoning of its own: floor = last touch at the place less the entered
/// distance and 0.5 mm, never below the profile's lowest height; no more than 0.10 mm below the highest height answered other than free.
/// </summary>
internal static class DepthWatch
{
    private const double RoundingMm = 0.00051; // a command has three decimals
    private const double BeyondContactMm = 0.10;
    private const double MarginMm = 0.5;

    /// <summary>What was sent too deep, in words; empty when nothing was.</summary>
    public static IEnumerable<string> TooDeep(IEnumerable<JournalEntry> entries, MachineProfile profile)
    {
        double? touch = null, contact = null;
        double at = double.PositiveInfinity;
        foreach (JournalEntry entry in entries.Where(entry => entry.Kind == EntryKind.Fact))
        {
            switch (JournalJson.Read<Request>(entry.Request))
            {
                case HomeAxes home when home.Axes.HasFlag(Axes.Z):
                    (touch, contact) = (null, null);
                    break;
                case TouchAt:
                    touch = JournalJson.Read<Reading>(entry.Reply).Z;
                    break;
                case MoveToHeight move:
                    at = move.HeightMm;
                    double floor = touch is { } z ? Math.Max(z - profile.Probe.TriggerToNozzleMm - MarginMm, profile.Travel.LowestZ) : profile.Travel.LowestZ;
                    if (at < floor - RoundingMm)
                    {
                        yield return FormattableString.Invariant($"row {entry.Ordinal}: {at:0.0000} is below the floor {floor:0.0000}");
                    }

                    if (at < contact - BeyondContactMm - RoundingMm)
                    {
                        yield return FormattableString.Invariant($"row {entry.Ordinal}: {at:0.0000} is more than 0.10 below the contact at {contact:0.0000}");
                    }

                    break;
                case AskPerson ask when IsContact(ask.Prompt.Id, JournalJson.Read<Answer>(entry.Reply).Value):
                    contact = Math.Max(contact ?? at, at);
                    break;
            }
        }
    }

    /// <summary>Whether an answer says that the nozzle was not free.</summary>
    public static bool IsContact(string promptId, string answer) => promptId switch
    {
        PromptIds.StepDownPaper or PromptIds.VerifyPaper or PromptIds.LeanPaper => answer is "drags" or "pinched",
        PromptIds.ProbeOffsetNozzleAtMark => answer == "touching",
        _ => false,
    };
}
