using ProbeRunner.SimulatedPrinter.Chance;

namespace ProbeRunner.SimulatedPrinter.Faults;

/// <summary>One bad byte in a share of lines: which line, which byte and which bits are decided by a hash.</summary>
internal static class BadByte
{
    public static void Strike(FaultPlan plan, NoiseKind direction, long ordinal, double share, Span<byte> line)
    {
        if (share > 0 && KeyedNoise.Uniform(plan.Seed, direction, ordinal) < share)
        {
            var bits = KeyedNoise.Hash(plan.Seed, direction, -ordinal);
            line[(int)((bits >> 16) % (ulong)line.Length)] ^= (byte)(1 + (bits % 255));
        }
    }
}
