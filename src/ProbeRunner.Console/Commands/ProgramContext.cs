namespace ProbeRunner.Console.Commands;

/// <summary>Everything a command gets from outside, so that tests can hand it something else.</summary>
/// <param name="Output">Results.</param>
/// <param name="Error">Messages and progress.</param>
/// <param name="Input">What is typed or piped in.</param>
/// <param name="Time">The wall clock.</param>
/// <param name="Environment">An environment variable by its name; null when it is not set.</param>
/// <param name="ProgramFolder">Where the program and the files shipped with it are.</param>
/// <param name="InputIsTerminal">Whether a person can be expected at <paramref name="Input"/>.</param>
/// <param name="OutputIsTerminal">Whether <paramref name="Output"/> is a screen.</param>
internal sealed record ProgramContext(
    TextWriter Output,
    TextWriter Error,
    TextReader Input,
    TimeProvider Time,
    Func<string, string?> Environment,
    string ProgramFolder,
    bool InputIsTerminal,
    bool OutputIsTerminal = false)
{
    /// <summary>The real thing.</summary>
    public static ProgramContext OfThisProcess() => new(
        System.Console.Out,
        System.Console.Error,
        System.Console.In,
        TimeProvider.System,
        System.Environment.GetEnvironmentVariable,
        AppContext.BaseDirectory,
        !System.Console.IsInputRedirected,
        !System.Console.IsOutputRedirected);
}
