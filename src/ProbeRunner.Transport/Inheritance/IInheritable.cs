using ProbeRunner.Transport.Links;

namespace ProbeRunner.Transport.Inheritance;

/// <summary>A link whose descriptor a child process can hold too, so that the line to the controller outlives this process.</summary>
public interface IInheritable : ILink
{
    /// <summary>Hands the descriptor to somebody for the time of a call; it stays open meanwhile, and is never closed by the borrower.</summary>
    /// <returns>False when the link is closed already.</returns>
    bool TryLend(Action<int> use);

    /// <summary>Notes who holds the descriptor on when this process dies: whoever opens the port then waits for it a moment.</summary>
    void NoteHeir(int process);
}
