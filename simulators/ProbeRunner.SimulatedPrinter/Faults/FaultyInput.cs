using ProbeRunner.SimulatedPrinter.Chance;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>Spoils bytes on their way to the controller.</summary>
internal sealed class FaultyInput(FaultPlan plan)
{
    private readonly List<byte> _line = [];

    /// <summary>Lines that have gone through.</summary>
    public long Lines { get; private set; }

    /// <summary>Takes bytes; whole lines are handed on, one at a time, spoilt or not.</summary>
    public void Take(ReadOnlySpan<byte> bytes, Action<ReadOnlySpan<byte>> handOn)
    {
        if (plan.SparesInput)
        {
            handOn(bytes);
            return;
        }

        foreach (var value in bytes)
        {
            _line.Add(value);
            if (value == (byte)'\n')
            {
                byte[] line = [.. _line];
                _line.Clear();
                Lines++;
                BadByte.Strike(plan, NoiseKind.LineToController, Lines, plan.BadByteToController, line);
                handOn(line);
            }
        }
    }
}
