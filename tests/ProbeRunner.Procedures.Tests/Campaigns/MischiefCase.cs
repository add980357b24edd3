using ProbeRunner.Machine.Profiles;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.Campaigns;

/// <summary>How a person answers who is no help.</summary>
internal enum Mischief
{
    /// <summary>The paper is always free, every gap right.</summary>
    AlwaysFree,

    /// <summary>The paper always drags.</summary>
    AlwaysDrags,

    /// <summary>The paper is always pinched.</summary>
    AlwaysPinched,

    /// <summary>The opposite of what is felt.</summary>
    Opposite,

    /// <summary>Free and pinched by turns.</summary>
    ByTurns,

    /// <summary>Drags once, high up, then free for ever.</summary>
    ThenFree,

    /// <summary>Any choice of each prompt.</summary>
    AnyChoice,

    /// <summary>Any of the paper's three words, and calls it off now and then.</summary>
    CallsOff,

    /// <summary>What is felt, but steps by hand and takes answers back at every chance.</summary>
    Meddles,

    /// <summary>Goes down by hand wherever that is offered, and says free.</summary>
    GoesDown,
}

/// <summary>What is done with a person who is no help.</summary>
internal enum MischiefWork
{
    /// <summary>The nozzle comes down to a mark.</summary>
    Mark,

    /// <summary>The step-down, and the verification after it if it comes to that.</summary>
    StepDown,

    /// <summary>The stored offset is proven as it is.</summary>
    Verify,
}

/// <summary>A person, a machine and what its owner believes of it wrongly.</summary>
/// <param name="Seed">Of everything.</param>
/// <param name="Person">How the person answers.</param>
/// <param name="StoredOffsetZ">What the controller has stored, mm.</param>
/// <param name="EnteredDistanceMm">Trigger to nozzle, as entered; the truth is 2.15 or what the scenario says.</param>
/// <param name="MeshMm">Half range of a mesh that the controller has on; 0 for none.</param>
/// <param name="Work">What is done.</param>
internal sealed record MischiefCase(int Seed, Mischief Person, double StoredOffsetZ, double EnteredDistanceMm, double MeshMm, MischiefWork Work)
{
    private const double LeastTriggerMm = 1.9;
    private const double MostTriggerMm = 2.4;
    private static readonly Scenario Good = ScenarioFile.Load("good");
    private static readonly MachineProfile Wren = CampaignMachine.Profile("wren-240");
    private static readonly double[] Entered = [2.2, 2.2, 1.2, 1.8, 2.5, 2.8, 0.3];

    /// <summary>What the machine really is.</summary>
    public Scenario Scenario { get; private init; } = Good;

    /// <summary>What its owner believes.</summary>
    public MachineProfile Profile { get; private init; } = Wren;

    /// <summary>A case, all chance from its number.</summary>
    public static MischiefCase Of(int seed)
    {
        var chance = new Random(seed);
        double trigger = LeastTriggerMm + ((MostTriggerMm - LeastTriggerMm) * chance.NextDouble());
        double stored = chance.Next(6) switch { 0 => -2 * trigger, 1 => trigger, 2 => 0, 3 => -trigger + 1, 4 => -trigger - 1, _ => -trigger };
        double entered = Entered[chance.Next(Entered.Length)];
        double mesh = chance.Next(3) == 0 ? 0.4 : 0;
        var person = (Mischief)chance.Next(Enum.GetValues<Mischief>().Length);
        MischiefWork work = chance.Next(6) switch { 0 => MischiefWork.Mark, 1 or 2 => MischiefWork.Verify, _ => MischiefWork.StepDown };
        return new MischiefCase(seed, person, stored, entered, mesh, work)
        {
            Scenario = Good with
            {
                Seed = (ulong)seed,
                Probe = Good.Probe with { TriggerDistanceMm = trigger, TouchSdMm = 0.0015, ExtensionSdMm = 0.001, HomingSdMm = 0.003 },
                Controller = Good.Controller with { StoredOffsetZ = stored, KeepsMeshOnHoming = chance.Next(2) == 0 },
            },
            Profile = Wren with { Probe = Wren.Probe with { TriggerToNozzleMm = entered } },
        };
    }
}
