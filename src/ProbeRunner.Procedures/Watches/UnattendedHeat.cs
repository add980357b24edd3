using System.Collections.Immutable;

namespace ProbeRunner.Procedures.Watches;

/// <summary>Whether a run may switch heaters on with nobody at the machine, and for how long.</summary>
/// <param name="Limit">For how long; null when it may not.</param>
/// <param name="WhyNot">Every reason why it may not, each a sentence with what to do; empty when it may.</param>
public sealed record UnattendedHeat(TimeSpan? Limit, ImmutableArray<string> WhyNot)
{
    /// <summary>What a person who lets a machine heat alone must know.</summary>
    public const string Caution =
        "This run heats with nobody at the machine. Heated machines have burned down: keep to the maker's instructions and local rules, have a smoke alarm near, nothing that burns around it, and never one that is not in order.";

    /// <summary>Nobody has allowed it.</summary>
    public static UnattendedHeat NotAllowed { get; } = new(null, ["heaters stay off with nobody at the machine unless a time is given for which they may be on."]);

    /// <summary>It may, for this long.</summary>
    public static UnattendedHeat AllowedFor(TimeSpan limit) => new(limit, []);
}
