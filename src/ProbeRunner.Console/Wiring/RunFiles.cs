using System.Security.Cryptography;
using ProbeRunner.Console.Commands;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps;
using ProbeRunner.Records.Runs;
using ProbeRunner.Records.Store;

namespace ProbeRunner.Console.Wiring;

/// <summary>The files a run goes by, read and checked: machine, dialect and script, with their texts for the record.</summary>
internal sealed record RunFiles(MachineProfile Profile, string ProfileText, Dialect Dialect, string DialectText, RunScript Script)
{
    private const string CheckAgain = "check-again";

    /// <summary>Reads them for a new run.</summary>
    /// <exception cref="FileFaultException">One is missing or wrong; every fault with its place.</exception>
    public static RunFiles ForNewRun(ProfileCatalogue catalogue, RunRequest request)
    {
        var profileFile = TomlFile.Load(catalogue.Locate(ProfileKind.Machine, request.Machine));
        var profile = ProfileReader.Read(profileFile);
        var dialectFile = TomlFile.Load(catalogue.Locate(ProfileKind.Dialect, profile.Dialect));
        return new RunFiles(profile, profileFile.Text, DialectReader.Read(dialectFile), dialectFile.Text, LoadScript(catalogue, request));
    }

    /// <summary>The same with the earlier capture that a check goes by written into its script; unchanged when the script has no such step.</summary>
    /// <exception cref="UsageException">There is no such capture.</exception>
    public RunFiles WithEarlierCapture(ProfileCatalogue catalogue, RunRequest request, RunStore store, bool simulated)
    {
        if (Script.Steps.All(step => step.Name != CheckAgain))
        {
            return this;
        }

        string? named = request.Parameters.Select(one => one.Split('=', 2)).Where(pair => pair[0].Trim() is $"{CheckAgain}.against" or "against").Select(pair => pair[1].Trim()).LastOrDefault();
        var earlier = named is null
            ? EarlierCaptures.Newest(store, Profile.Name, simulated)
                ?? throw new UsageException($"The store {store.Path} has no sound capture of {Profile.Name} to check against. Nothing has moved. Capture the bed first (grid), or name another store with --store.")
            : EarlierCaptures.Of(store.Read(named))
                ?? throw new UsageException($"Run {named} has no sound capture to check against. Nothing has moved. Name another run, or leave it out for the last sound one.");
        return this with { Script = LoadScript(catalogue, request with { Parameters = [.. request.Parameters, .. earlier.Parameters()] }) };
    }

    /// <summary>The same with the plate that this machine's runs had last written into the script, where a step asks for the plate and nobody stated it.</summary>
    public RunFiles WithLastPlate(RunStore store, bool simulated) =>
        Script.Plate.Stated.Length == 0 && Script.Steps.Any(step => step.DependsOnPlate) && LastPlate.Of(store, Profile.Name, simulated) is { Length: > 0 } last
            ? this with { Script = RunScript.Parse(Script.Text, $"{Script.Name}.toml", [PlateOnBed.LastParameter(last)]) }
            : this;

    /// <summary>Takes them from a recorded run: what was decided then is decided again, whatever the files say today.</summary>
    /// <exception cref="FileFaultException">The record holds a text that this version does not accept.</exception>
    public static RunFiles OfRecordedRun(RunHeader header)
    {
        var profile = ProfileReader.Read(TomlFile.Parse(header.ProfileText, $"{header.MachineName}.toml"));
        var dialect = DialectReader.Read(TomlFile.Parse(header.DialectText, $"{profile.Dialect}.toml"));
        return new RunFiles(profile, header.ProfileText, dialect, header.DialectText, RunScript.Parse(header.ScriptText, header.ScriptName));
    }

    /// <summary>The header of a new run.</summary>
    /// <param name="portIdentity">The port's stable identity.</param>
    /// <param name="now">By the wall clock.</param>
    /// <param name="givenSeed">Seed of what the run leaves to chance; null draws one.</param>
    public RunHeader Header(string portIdentity, DateTimeOffset now, ulong? givenSeed)
    {
        // The seed only makes start heights unpredictable to the person; it is recorded, so that a replay meets the same ones.
        var drawn = RandomNumberGenerator.GetBytes(sizeof(ulong));
        var seed = givenSeed ?? BitConverter.ToUInt64(drawn);
        return new RunHeader(
            RunId.New(now, new Random(BitConverter.ToInt32(drawn))),
            Profile.Name,
            Script.Name,
            Script.Text,
            ProfileText,
            DialectText,
            portIdentity,
            ControllerIdentity: "",
            now,
            seed,
            ProgramVersion.Text);
    }

    private static RunScript LoadScript(ProfileCatalogue catalogue, RunRequest request) =>
        StepCatalogue.Names.Contains(request.Script)
            ? RunScript.ForStep(request.Script, request.Parameters)
            : RunScript.Load(catalogue.Locate(ProfileKind.RunScript, request.Script), request.Parameters);
}
