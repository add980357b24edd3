using ProbeRunner.Machine.Touches;
using ProbeRunner.Procedures.Conclusions;

namespace ProbeRunner.Procedures.Steps.SelfCheck;

/// <summary>What a condition of the probe means for a person, and the next thing to do about it.</summary>
internal static class ProbeFindings
{
    private const string NotBefore = "Do not home Z before this check is passed.";

    /// <summary>The finding; null for a healthy probe.</summary>
    public static Finding? For(ProbeCondition condition, ProbeSymptoms symptoms, string said) => condition switch
    {
        ProbeCondition.Healthy => null,
        ProbeCondition.Dead => New(
            "dead",
            "The probe is dead: no push reaches the controller.",
            symptoms,
            $"Look first whether its plug sits in the right socket and the right way round, then for a broken signal wire, then whether the controller's settings name that input as the probe. {NotBefore}"),
        ProbeCondition.Stuck => New(
            "stuck",
            "The probe is stuck: it reads triggered whether it is pushed or not.",
            symptoms,
            $"Look for dirt or a bent pin that holds it in, for metal too near to a sensing face, then for a signal wire that touches ground or the frame. {NotBefore}"),
        ProbeCondition.Reversed => New(
            "reversed",
            "The probe is reversed: it reads triggered in free air, and open while it is pushed.",
            symptoms,
            $"Turn round the sense of the probe's input in the controller's settings (its inversion), store that, and check again. {NotBefore}"),
        ProbeCondition.Flickering => New(
            "flickering",
            "The probe flickers: what it reads changes while nothing changes.",
            symptoms,
            $"Look for a loose plug, a cracked wire where it bends, or a signal wire beside a heater's; move each by hand while you watch the reading. Then check again, and hold steadily while you push. {NotBefore}"),
        ProbeCondition.DoesNotMove => New(
            "does-not-move",
            "The probe does not go out and in as told.",
            symptoms,
            $"Look whether the pin is bent, dirty or blocked by its bracket, then at its supply and control wires. {NotBefore}",
            said.Length > 0 ? $" The controller says \"{said}\"." : string.Empty),
        ProbeCondition.Sticks => New(
            "sticks",
            "The probe stays triggered after it was let go.",
            symptoms,
            $"Clean the pin and its hole, and look whether something rubs; a touch after a stuck one would begin too high. {NotBefore}"),
        ProbeCondition.NotHeeded => New(
            "not-heeded",
            "The controller sees the probe, but does not stop for it.",
            symptoms,
            $"The controller's settings take another switch for the end of Z: name the probe there, store that, and check again. {NotBefore}"),
        _ => New(
            "not-reported",
            "The controller does not say what the probe's switch reads.",
            symptoms,
            "Only the descent was proven. A probe that fails now and then can't be told beforehand: keep a hand at the mains switch at the first homings."),
    };

    /// <summary>Looks as counts, moments in the order of the check.</summary>
    public static IEnumerable<LookCount> Counts(ProbeSymptoms symptoms) => symptoms.Looks
        .GroupBy(look => look)
        .OrderBy(group => group.Key.Moment).ThenBy(group => group.Key.State)
        .Select(group => new LookCount(Words(group.Key.Moment), group.Key.State, group.Count()));

    private static Finding New(string id, string title, ProbeSymptoms symptoms, string next, string more = "") => new(
        $"self-check.{id}", title, null, "probe", 1, $"Its switch read: {Evidence(symptoms)}.{Descent(symptoms)}{more}", next);

    private static string Evidence(ProbeSymptoms symptoms) => string.Join("; ", Counts(symptoms)
        .GroupBy(count => count.Moment)
        .Select(group => $"{group.Key}: {string.Join(", ", group.Select(count => FormattableString.Invariant($"{State(count.State)} {count.Count} times")))}"));

    private static string Descent(ProbeSymptoms symptoms) => symptoms.StoppedDescent switch
    {
        true => " A push stopped the descent.",
        false => " The descent went on when the person pushed.",
        null => string.Empty,
    };

    private static string State(ProbeState state) => state switch { ProbeState.Triggered => "triggered", ProbeState.Open => "open", _ => "not reported" };

    private static string Words(LookMoment moment) => moment switch
    {
        LookMoment.Before => "before",
        LookMoment.Out => "out",
        LookMoment.In => "in",
        LookMoment.Pushed => "pushed",
        LookMoment.LetGo => "let go",
        _ => "after clearing its fault",
    };
}
