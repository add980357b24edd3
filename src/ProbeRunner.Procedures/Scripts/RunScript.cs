using System.Collections.Immutable;
using System.Text;
using ProbeRunner.Machine.Toml;
using ProbeRunner.Procedures.Steps;

namespace ProbeRunner.Procedures.Scripts;

/// <summary>The list of steps that a run follows, checked.</summary>
/// <param name="Name">What the person called it: a script's name, or a step's.</param>
/// <param name="Title">Its name for a person.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Steps">The steps in order, each with its parameters.</param>
/// <param name="Text">The script as TOML with everything set on the command line written into it; parsing it again gives the same script.</param>
public sealed record RunScript(string Name, string Title, string Purpose, ImmutableArray<Step> Steps, string Text)
{
    private const int MostSteps = 100;

    /// <summary>What is known beforehand of the plate on the bed.</summary>
    public PlateOnBed Plate { get; init; } = PlateOnBed.Unknown;

    /// <summary>Reads a script file.</summary>
    /// <param name="path">Where it is.</param>
    /// <param name="set">Parameters that win over the file's, each as <c>step.key=value</c>, or <c>plate=NAME</c>.</param>
    /// <exception cref="FileFaultException">Something is wrong in it; every fault with its place and what is accepted.</exception>
    public static RunScript Load(string path, IReadOnlyList<string>? set = null) =>
        Parse(TomlFile.Load(path).Text, path, set);

    /// <summary>Reads a script.</summary>
    /// <param name="text">TOML.</param>
    /// <param name="name">What to call it in messages; its file name without extension is the script's name.</param>
    /// <param name="set">Parameters that win over the text's, each as <c>step.key=value</c>, or <c>plate=NAME</c>.</param>
    /// <exception cref="FileFaultException">Something is wrong in it; every fault with its place and what is accepted.</exception>
    public static RunScript Parse(string text, string name, IReadOnlyList<string>? set = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(name);
        string whole = SetLines.Append(text, set ?? []);
        TomlFile file = TomlFile.Parse(whole, name);
        string title = file.Root.Text("title");
        string purpose = file.Root.Text("purpose", string.Empty);
        ImmutableArray<TomlSection> sections = file.Root.Sections("step");
        if (sections.IsEmpty || sections.Length > MostSteps)
        {
            file.Root.Refuse("step", "the script has no steps, or too many", $"1 to {MostSteps} tables [[step]] are accepted");
        }

        SetLines.Apply(whole, file, sections);
        PlateOnBed plate = PlateOnBed.Read(file.Root);
        var steps = sections.Select(section => StepCatalogue.Read(section, file.Faults)).OfType<Step>().ToImmutableArray();
        file.Finish();
        return new RunScript(Path.GetFileNameWithoutExtension(name), title, purpose, steps, whole) { Plate = plate };
    }

    /// <summary>
    /// A script of one step, with the lift and homing before it that its motions need, and the tests of the probe that it rests on. What it
    /// must know besides (an offset, a captured bed) is not made up: the engine's refusal names the steps that give it.
    /// </summary>
    /// <param name="step">The step's name.</param>
    /// <param name="set">Parameters, each as <c>key=value</c> or <c>step.key=value</c>.</param>
    /// <exception cref="FileFaultException">There is no such step, or a parameter is wrong.</exception>
    public static RunScript ForStep(string step, IReadOnlyList<string>? set = null)
    {
        ArgumentNullException.ThrowIfNull(step);
        if (!StepCatalogue.Names.Contains(step))
        {
            string near = NearestWord.Among(step, StepCatalogue.Names) is { } word ? $"did you mean {word}? " : string.Empty;
            throw new FileFaultException([new FileFault(FilePosition.Whole(step), "there is no such step", $"{near}Steps are {string.Join(", ", StepCatalogue.Names)}")]);
        }

        Step alone = StepCatalogue.WithDefaults(step);
        var text = new StringBuilder($"title = \"{alone.Title}\"\n");
        foreach (string needed in Before(alone).Append(step))
        {
            text.Append("\n[[step]]\ndo = \"").Append(needed).Append("\"\n");
        }

        return Parse(text.ToString(), step, [.. (set ?? []).Select(one => SetLines.Qualified(one, step))]);
    }

    private static IEnumerable<string> Before(Step step) => step.Needs switch
    {
        var needs when needs.HasFlag(Milestones.OffsetVerified) => ["first-lift", "home-xy", "self-check", "verify"],
        var needs when needs.HasFlag(Milestones.ProbeTested) =>
        [
            "first-lift",
            "home-xy",
            "self-check",
            .. needs.HasFlag(Milestones.HomedZ) ? ["first-home-z"] : Array.Empty<string>(),
            .. needs.HasFlag(Milestones.Repeatable) ? ["series"] : Array.Empty<string>(),
        ],
        var needs when needs.HasFlag(Milestones.HomedZ) => ["first-lift", "home"],
        var needs when needs.HasFlag(Milestones.HomedXY) => ["first-lift", "home-xy"],
        var needs when needs.HasFlag(Milestones.Lifted) => ["first-lift"],
        _ => [],
    };
}
