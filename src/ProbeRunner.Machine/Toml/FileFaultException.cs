using System.Collections.Immutable;

namespace ProbeRunner.Machine.Toml;

/// <summary>A file that a person edits cannot be used as it is; nothing was done with it.</summary>
public sealed class FileFaultException : Exception
{
    /// <summary>Reports what is wrong.</summary>
    /// <param name="faults">Everything that is wrong, in file order; at least one.</param>
    public FileFaultException(ImmutableArray<FileFault> faults)
        : base(string.Join('\n', faults.Select(fault => fault.ToString())))
    {
        Faults = faults;
    }

    /// <summary>Everything that is wrong, in file order.</summary>
    public ImmutableArray<FileFault> Faults { get; }
}
