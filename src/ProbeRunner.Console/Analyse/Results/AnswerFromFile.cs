using ProbeRunner.Machine.Toml;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Console.Analyse.Results;

/// <summary>Turns a refusal of the maths into what is wrong with the file.</summary>
internal static class AnswerFromFile
{
    /// <summary>The value.</summary>
    /// <exception cref="FileFaultException">The computation was refused: these data have no answer.</exception>
    public static T Of<T>(Answer<T> answer, string file) => answer.Refusal is { } reason
        ? throw new FileFaultException([new FileFault(FilePosition.Whole(file), Printable.Text(reason.Message), string.Empty)])
        : answer.Value;
}
