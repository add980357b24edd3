using System.Collections.Immutable;

namespace ProbeRunner.Machine.Toml;

/// <summary>Collects what is wrong while a file is read, so that a person hears all of it at once.</summary>
public sealed class FaultList
{
    private readonly List<FileFault> _faults = [];

    /// <summary>Whether anything is wrong so far.</summary>
    public bool Any => _faults.Count > 0;

    /// <summary>What is wrong so far.</summary>
    public ImmutableArray<FileFault> All => [.. _faults.OrderBy(fault => fault.Where.Line).ThenBy(fault => fault.Where.Column)];

    /// <summary>Adds something wrong.</summary>
    /// <param name="where">The place.</param>
    /// <param name="wrong">What is wrong.</param>
    /// <param name="accepted">What is accepted instead.</param>
    public void Add(FilePosition where, string wrong, string accepted = "") => _faults.Add(new FileFault(where, wrong, accepted));

    /// <summary>Ends the reading.</summary>
    /// <exception cref="FileFaultException">Something was wrong.</exception>
    public void ThrowIfAny()
    {
        if (Any)
        {
            throw new FileFaultException(All);
        }
    }
}
