using System.Collections.Immutable;
using ProbeRunner.Machine.Printers;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Engine;
using ProbeRunner.Procedures.Events;
using ProbeRunner.Procedures.Journal;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Scripts;

namespace ProbeRunner.Procedures.Steps;

/// <summary>What a step works with.</summary>
internal sealed class StepContext(
    Workbench bench, EventStreams events, Step step, int index, MachineProfile profile, RunHeader header, PlateOnBed plate, IPrinter printer, IReadOnlyList<(Step Step, StepConclusion Conclusion)> earlier)
{
    /// <summary>The step's name.</summary>
    public string StepName => step.Name;

    /// <summary>The run's id, for commands that a person is told to type.</summary>
    public string RunId { get; } = header.RunId;

    /// <summary>The machine as its profile describes it.</summary>
    public MachineProfile Profile { get; } = profile;

    /// <summary>The line that switches the stored mesh on, for a slicer's start code.</summary>
    public string MeshStartCodeLine { get; } = printer.MeshStartCodeLine;

    /// <summary>The lines that set a mesh's nodes, as the controller's dialect writes them, for copying.</summary>
    public ImmutableArray<string> LinesThatSet(MeshNodes mesh) => printer.LinesThatSet(mesh);

    /// <summary>Conclusions of the steps before, in order.</summary>
    public IReadOnlyList<(Step Step, StepConclusion Conclusion)> Earlier { get; } = earlier;

    /// <summary>The last conclusion of a type; null when no step before came to one.</summary>
    public T? EarlierOrNull<T>()
        where T : StepConclusion => Earlier.Select(pair => pair.Conclusion).OfType<T>().LastOrDefault();

    /// <inheritdoc cref="IWorkbench.DoAsync{TReply}" />
    public Task<TReply> DoAsync<TReply>(Request<TReply> request) => bench.DoAsync(request);

    /// <inheritdoc cref="IWorkbench.InSectionAsync{T}" />
    public Task<T> InSectionAsync<T>(string name, Retake retake, int? planned, Func<Task<T>> body) =>
        bench.InSectionAsync(new Section(name, retake, planned), body);

    /// <summary>How long a plan will take on this machine: by its own times of this session where there are any. For telling, never for deciding.</summary>
    public TimeSpan Expect(StepPlan plan) => bench.Expect(plan);

    /// <summary>Says how many touches are still expected, where the step finds that out as it goes; for the time left that is shown.</summary>
    public void StillToCome(int touches) => bench.StillToCome(touches);

    /// <summary>How often a section of this step was begun before and left unfinished.</summary>
    public int TakesBefore(string section) => bench.RetakesOf(section);

    /// <summary>Puts a question to the person.</summary>
    public Task<Answer> AskAsync(Prompt prompt) => bench.DoAsync(new AskPerson(prompt));

    /// <summary>The plate on the bed, by the person's name for it: as stated beforehand or said earlier in the run, else asked; empty when nobody said.</summary>
    public async Task<string> PlateAsync()
    {
        if (Earlier.Select(pair => pair.Conclusion.TakenUnder?.Plate).LastOrDefault(known => known is { Length: > 0 }) is { } said)
        {
            return said;
        }

        string name = plate.Stated.Length > 0 ? plate.Stated : (await AskAsync(PlateWords.Question(plate.Last))).Value.Trim();
        if (PlateWords.WhyBeware(name, plate.Last) is { } warning)
        {
            Warn(warning);
        }

        return name;
    }

    /// <summary>Has the person confirm that paper and hands are out.</summary>
    public Task HandsClearAsync(string id, string text) => AskAsync(Prompts.HandsClear(id, text));

    /// <summary>Tells listeners what is being done.</summary>
    public void Remark(string text) => Tell(at => new Remarked(at, step.Name, text));

    /// <summary>Tells listeners what a person should know.</summary>
    public void Warn(string text) => Tell(at => new Warned(at, step.Name, text));

    /// <summary>Tells listeners how far the step has come, for their pictures; also while a record is gone over again.</summary>
    public void Show(Func<TimeSpan, RunEvent> what) => events.Tell(what);

    /// <summary>Records that a setting of the controller was changed.</summary>
    public void NoteChange(string setting, string before, string after) => bench.NoteChange(new ChangedSetting(setting, before, after));

    /// <summary>
    /// Chance for one purpose within a section: decided by the run's seed, the step, the purpose and how often the section was begun,
    /// so that a replay meets the same choices and a second attempt other ones.
    /// </summary>
    public SeededChance Chance(string section, string purpose) => new(header.Seed, $"{index}/{section}/{purpose}/{bench.RetakesOf(section)}");

    private void Tell(Func<TimeSpan, RunEvent> what)
    {
        if (!bench.IsReplaying)
        {
            events.Tell(what);
        }
    }
}
