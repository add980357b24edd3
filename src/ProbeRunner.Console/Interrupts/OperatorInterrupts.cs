using System.Runtime.InteropServices;

namespace ProbeRunner.Console.Interrupts;

/// <summary>
/// What a person or the system does to end a run from outside: Ctrl-C asks to stop, again within three seconds halts;
/// the signals for termination, hang-up and quit ask to stop. Ctrl-Z does nothing but say why: a program that is paused watches over
/// nothing, and its guardian would take it for one that hangs.
/// </summary>
internal sealed class OperatorInterrupts : IDisposable
{
    private static readonly TimeSpan HaltWindow = TimeSpan.FromSeconds(3);

    private readonly TimeProvider time;
    private readonly Action stop;
    private readonly Action halt;
    private readonly TextWriter messages;
    private readonly List<PosixSignalRegistration> registrations = [];
    private readonly Lock pressing = new();
    private long? firstPress;

    /// <summary>Listens from now on.</summary>
    /// <param name="time">The wall clock.</param>
    /// <param name="stop">Asks the run to stop; may be called more than once.</param>
    /// <param name="halt">Halts at once.</param>
    /// <param name="messages">Where the person is told.</param>
    public OperatorInterrupts(TimeProvider time, Action stop, Action halt, TextWriter messages)
    {
        (this.time, this.stop, this.halt, this.messages) = (time, stop, halt, messages);
        registrations.Add(PosixSignalRegistration.Create(PosixSignal.SIGINT, context =>
        {
            context.Cancel = true;
            Press();
        }));
        foreach (var signal in new[] { PosixSignal.SIGTERM, PosixSignal.SIGHUP, PosixSignal.SIGQUIT })
        {
            registrations.Add(PosixSignalRegistration.Create(signal, context =>
            {
                context.Cancel = true;
                stop();
            }));
        }

        if (!OperatingSystem.IsWindows())
        {
            registrations.Add(PosixSignalRegistration.Create(PosixSignal.SIGTSTP, context =>
            {
                context.Cancel = true;
                Say("Not paused: a paused program watches over nothing, and the machine would stay as it is. The run goes on. Ctrl-C stops it in order; it can be resumed.");
            }));
        }
    }

    /// <summary>One press of Ctrl-C.</summary>
    internal void Press()
    {
        bool again;
        lock (pressing)
        {
            again = firstPress is { } first && time.GetElapsedTime(first) < HaltWindow;
            firstPress = again ? null : time.GetTimestamp();
        }

        if (again)
        {
            halt();
            Say("HALT sent. If it still moves or heats, switch off at the mains.");
        }
        else
        {
            stop();
            Say("Stopping: the motion in hand is finished, then lift, park, heaters off. Ctrl-C again within 3 s halts at once.");
        }
    }

    /// <inheritdoc />
    public void Dispose()
    {
        foreach (var registration in registrations)
        {
            registration.Dispose();
        }
    }

    private void Say(string text)
    {
        try
        {
            messages.WriteLine(text);
        }
        catch (IOException)
        {
            // A closed terminal must not keep the stop from being carried out.
        }
    }
}
