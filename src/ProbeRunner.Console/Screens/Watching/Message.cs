namespace ProbeRunner.Console.Screens.Watching;

/// <summary>What kind of news a message is.</summary>
internal enum MessageKind
{
    /// <summary>What is being done.</summary>
    News,

    /// <summary>What came out.</summary>
    Result,

    /// <summary>What a person should know.</summary>
    Caution,

    /// <summary>What a person must do at once.</summary>
    Alarm,
}

/// <summary>One line of the run's log.</summary>
/// <param name="Number">The how many-th of the run, from 1; lines fall out of the log, numbers stay.</param>
/// <param name="At">Since the run began.</param>
/// <param name="Kind">What kind of news.</param>
/// <param name="Text">The line; sanitised when it is drawn.</param>
internal sealed record Message(int Number, TimeSpan At, MessageKind Kind, string Text);
