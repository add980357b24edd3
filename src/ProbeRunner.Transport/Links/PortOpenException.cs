namespace ProbeRunner.Transport.Links;

/// <summary>A port could not be opened; nothing was sent.</summary>
public sealed class PortOpenException : IOException
{
    /// <summary>States why a port could not be opened.</summary>
    /// <param name="port">The port, as a person named it.</param>
    /// <param name="problem">Why.</param>
    /// <param name="message">What happened and what to do.</param>
    /// <param name="holderProcess">The process that has it, if that is known.</param>
    /// <param name="inner">What the operating system said.</param>
    public PortOpenException(string port, PortProblem problem, string message, int? holderProcess = null, Exception? inner = null)
        : base(message, inner)
    {
        Port = port;
        Problem = problem;
        HolderProcess = holderProcess;
    }

    /// <summary>The port, as a person named it.</summary>
    public string Port { get; }

    /// <summary>Why it could not be opened.</summary>
    public PortProblem Problem { get; }

    /// <summary>The process that has it, if that is known.</summary>
    public int? HolderProcess { get; }
}
