using System.Runtime.InteropServices;
using System.Text;
using ProbeRunner.Transport.Inheritance;

namespace ProbeRunner.Transport.Posix;

/// <summary>
/// Starts a program that inherits chosen descriptors and no others. The framework's own way to start a process can hand on none but the
/// standard three; making a descriptor inheritable before it would let any other child that starts in that moment have it too.
/// </summary>
internal static unsafe class Spawning
{
    /// <summary>Starts a program in a session of its own.</summary>
    /// <param name="program">Its path.</param>
    /// <param name="arguments">Its arguments, without its own name.</param>
    /// <param name="descriptors">Which descriptor of ours becomes which of the child's; taken in order.</param>
    /// <returns>Its process number.</returns>
    /// <exception cref="ChildStartException">It could not be started.</exception>
    public static int Start(string program, IReadOnlyList<string> arguments, IReadOnlyList<(int Ours, int Theirs)> descriptors)
    {
        byte* actions = stackalloc byte[SpawnCalls.StructureBytes];
        byte* attributes = stackalloc byte[SpawnCalls.StructureBytes];
        byte* noSignals = stackalloc byte[SpawnCalls.StructureBytes];
        new Span<byte>(noSignals, SpawnCalls.StructureBytes).Clear();
        Check(SpawnCalls.BeginActions(actions), program);
        Check(SpawnCalls.BeginAttributes(attributes), program);
        nint[] words = Words([program, .. arguments]);
        nint[] environment = Words(Environment.GetEnvironmentVariables().Cast<System.Collections.DictionaryEntry>()
            .Select(variable => $"{variable.Key}={variable.Value}"));
        try
        {
            foreach ((int ours, int theirs) in descriptors)
            {
                Check(SpawnCalls.AddDuplicate(actions, ours, theirs), program);
            }

            Check(SpawnCalls.SetFlags(attributes, SpawnCalls.NewSession | SpawnCalls.SetMask), program);
            Check(SpawnCalls.SetSignalMask(attributes, noSignals), program);
            int process;
            fixed (nint* first = words, firstVariable = environment)
            {
                Check(SpawnCalls.Spawn(&process, (byte*)words[0], actions, attributes, (byte**)first, (byte**)firstVariable), program);
            }

            return process;
        }
        finally
        {
            Free(words);
            Free(environment);
            _ = SpawnCalls.EndActions(actions);
            _ = SpawnCalls.EndAttributes(attributes);
        }
    }

    /// <summary>Takes note of a child's end, so that nothing is left of it.</summary>
    /// <returns>Whether it has ended.</returns>
    public static bool Reap(int process)
    {
        int status;
        return SpawnCalls.Wait(process, &status, SpawnCalls.NoHang) != 0;
    }

    private static void Check(int error, string program)
    {
        if (error != 0)
        {
            throw new ChildStartException($"{program} could not be started (error {error}).");
        }
    }

    private static nint[] Words(IEnumerable<string> texts) => [.. texts.Select(Word), 0];

    private static nint Word(string text)
    {
        byte[] bytes = [.. Encoding.UTF8.GetBytes(text), 0];
        nint word = (nint)NativeMemory.Alloc((nuint)bytes.Length);
        bytes.CopyTo(new Span<byte>((void*)word, bytes.Length));
        return word;
    }

    private static void Free(nint[] words)
    {
        foreach (nint word in words)
        {
            NativeMemory.Free((void*)word);
        }
    }
}
