namespace ProbeRunner.Transport.Commands;

/// <summary>
/// How one kind of controller words its lines. The channel knows the conversation, this knows the words;
/// it comes from a dialect file. Called from the channel's reading loop: it must be quick and must not throw.
/// </summary>
public interface ILineGrammar
{
    /// <summary>The line that asks the controller to stop everything at once, without line end; sent unnumbered, past every queue.</summary>
    string HaltLine { get; }

    /// <summary>
    /// A query that changes nothing and that every controller of this kind answers; asked to get back in step after a disturbance.
    /// Its <see cref="Command.Answer"/> should recognise the answer.
    /// </summary>
    Command Question { get; }

    /// <summary>Says what a line means. Whatever it does not know is <see cref="LineKind.Other"/>.</summary>
    /// <param name="line">The line without its end, raw: it may hold any character. At most 4096 bytes were received for it.</param>
    ClassifiedLine Classify(string line);

    /// <summary>A command with its line number in front: the text that the checksum covers.</summary>
    /// <param name="command">The command's text.</param>
    /// <param name="number">The line's number, 0 or more.</param>
    string Number(string command, int number);

    /// <summary>The numbered text with its checksum behind: the line as sent, without line end.</summary>
    /// <param name="numbered">What <see cref="Number"/> returned.</param>
    /// <param name="checksum">XOR of the bytes of <paramref name="numbered"/>, 0 to 255.</param>
    string Seal(string numbered, int checksum);

    /// <summary>The command that sets the number of the last line received.</summary>
    /// <param name="number">The number, 0 or more; the line sent next carries the number after it.</param>
    string SetLineNumber(int number);
}
