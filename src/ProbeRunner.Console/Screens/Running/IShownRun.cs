using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Screens.Watching;
using ProbeRunner.Console.Wiring;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Console.Screens.Running;

/// <summary>A run as the run screen sees it.</summary>
internal interface IShownRun
{
    /// <summary>Something has changed; raised on the screens' thread.</summary>
    event Action? Changed;

    /// <summary>What is being done.</summary>
    RunOrder Order { get; }

    /// <summary>What the run has told so far.</summary>
    RunView View { get; }

    /// <summary>The question that waits; null for none.</summary>
    AskedQuestion? Question { get; }

    /// <summary>The machine; null until it is connected.</summary>
    MachineView? Machine { get; }

    /// <summary>What goes over the wire; null until the machine is connected.</summary>
    WireTrace? Wire { get; }

    /// <summary>How much faster than the wall clock the run's clock goes.</summary>
    double Speed { get; }

    /// <summary>Whether it goes on.</summary>
    bool IsUnderWay { get; }

    /// <summary>Whether it stands held.</summary>
    bool IsHeld { get; }

    /// <summary>Why it could not begin or go on; null when it could.</summary>
    Failure? Failure { get; }

    /// <summary>How it ended; null while it has not.</summary>
    EndedRun? Ended { get; }

    /// <summary>Whether a simulated person could answer.</summary>
    bool CanAnswerItself { get; }

    /// <summary>Whether the simulated person answers.</summary>
    bool AnswersItself { get; set; }
}
