using ProbeRunner.Machine.Profiles;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps;
using ProbeRunner.Procedures.Watches;

namespace ProbeRunner.Procedures.Engine;

/// <summary>Refuses, before anything moves, a script whose order depends on what was not done, or that needs an absent person.</summary>
internal static class OrderCheck
{
    /// <summary>Checks a script.</summary>
    /// <exception cref="ScriptRefusedException">It can't be run; the message names every reason.</exception>
    public static void Check(RunScript script, MachineProfile profile, bool personPresent, UnattendedHeat? heat = null)
    {
        var reasons = new List<string>();
        Milestones have = Milestones.None;
        foreach (Step step in script.Steps)
        {
            Milestones missing = step.Needs & ~have;
            if (missing != Milestones.None)
            {
                reasons.Add($"{step.Name} needs {Words(missing)}; put {Givers(missing)} before it.");
            }

            if (step.NeedsPerson && !personPresent)
            {
                reasons.Add($"{step.Name} needs a person at the machine, and nobody is there; leave it out or run attended.");
            }

            if (step.Heats && !personPresent && heat?.Limit is null)
            {
                reasons.Add($"{step.Name} heats, and nobody is at the machine: {string.Join(" ", (heat ?? UnattendedHeat.NotAllowed).WhyNot)}");
            }

            if (step.WhyImpossible(profile) is { } impossible)
            {
                reasons.Add($"{step.Name}: {impossible}");
            }

            have |= step.Gives;
        }

        if (reasons.Count > 0)
        {
            throw new ScriptRefusedException($"Nothing has moved. The script {script.Name} can't be run: {string.Join(" ", reasons)}");
        }
    }

    /// <summary>What a script leaves out that its steps had better have, in sentences; none of it keeps it from being run.</summary>
    public static IEnumerable<string> Doubts(RunScript script, MachineProfile profile)
    {
        Milestones have = profile.Travel.ZDrives < 2 ? Milestones.GantryLevel : Milestones.None;
        foreach (Step step in script.Steps)
        {
            Milestones missing = step.Wants & ~have;
            if (missing != Milestones.None)
            {
                yield return $"{step.Name} comes without {Words(missing)} before it. Its result holds only if that was done since the motors let go last; put {Givers(missing)} before it otherwise.";
            }

            have |= step.Gives;
        }
    }

    private static string Words(Milestones missing) => string.Join(" and ", Each(missing).Select(milestone => milestone switch
    {
        Milestones.LookedOver => "the machine looked over",
        Milestones.Lifted => "the nozzle lifted clear",
        Milestones.HomedXY => "X and Y homed",
        Milestones.HomedZ => "Z homed",
        Milestones.ProbeTested => "the probe tested in the air",
        Milestones.Repeatable => "the probe's repeatability judged",
        Milestones.OffsetKnown => "the Z offset measured",
        Milestones.Captured => "the bed captured",
        Milestones.MeshKnown => "the mesh handed over",
        Milestones.Stored => "the settings stored",
        Milestones.GantryLevel => "the gantry levelled",
        _ => "the offset verified",
    }));

    private static string Givers(Milestones missing) => string.Join(", ", Each(missing)
        .Select(milestone => string.Join(" or ", StepCatalogue.Names.Where(name => StepCatalogue.WithDefaults(name).Gives.HasFlag(milestone))))
        .Distinct());

    private static IEnumerable<Milestones> Each(Milestones some) =>
        Enum.GetValues<Milestones>().Where(milestone => milestone != Milestones.None && some.HasFlag(milestone));
}
