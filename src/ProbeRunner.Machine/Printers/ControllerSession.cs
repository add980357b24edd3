using System.Collections.Immutable;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;

namespace ProbeRunner.Machine.Printers;

/// <summary>
/// Verbs over the command channel: renders them, remembers which the controller does not know, begins a new session after a reset that
/// somebody was told of, and tells the state what a failure means for it.
/// </summary>
internal sealed class ControllerSession(ICommandChannel channel, Dialect dialect, PrinterState state)
{
    private const int AttemptsWhenUncertain = 3;

    private readonly HashSet<Verb> _unknown = [];
    private readonly HashSet<Verb> _otherwise = [];
    private volatile bool _isOver = true;
    private int _resetsAtStart;

    /// <summary>Counts sessions, from 1 after the first has begun; what was set up in an earlier one is gone.</summary>
    public int Number { get; private set; }

    /// <summary>Whether the controller may know the verb.</summary>
    public bool Has(Verb verb) => dialect.Has(verb) && !_unknown.Contains(verb);

    /// <summary>Whether the last command was given up: the controller may still be busy with it, and the next one has to wait.</summary>
    public bool IsBrokenOff { get; private set; }

    /// <summary>Whether a reset was seen that nobody was told of yet.</summary>
    public bool IsStale => !_isOver && channel.ResetCount != _resetsAtStart;

    /// <summary>Tells of a reset that nobody was told of, once; the next verb then begins a session.</summary>
    /// <exception cref="ControllerResetException">There was one.</exception>
    public void ThrowIfStale()
    {
        if (IsStale)
        {
            _isOver = true;
            throw new ControllerResetException(string.Empty, pending: null);
        }
    }

    /// <summary>Begins a session if there is none.</summary>
    /// <param name="evenUntold">Also when a reset was seen that nobody was told of: for what must get through whatever happened.</param>
    public async Task BeginAsync(bool evenUntold, CancellationToken cancel)
    {
        if (!_isOver && !(evenUntold && IsStale))
        {
            return;
        }

        await GuardedAsync(async () =>
        {
            await channel.BeginSessionAsync(cancel);
            return 0;
        });
        if (Number > 0)
        {
            state.Lost(channel.ResetCount, isHalted: false);
        }

        _isOver = false;
        _resetsAtStart = channel.ResetCount;
        Number++;
    }

    /// <summary>Carries out a verb; all its lines are acknowledged when this returns.</summary>
    /// <returns>The lines that came back, acknowledgements last in each exchange.</returns>
    /// <exception cref="NotAbleException">The dialect has no such verb, or the controller does not know it.</exception>
    public async Task<ImmutableArray<string>> SendAsync(Verb verb, CancellationToken cancel, params (string Name, double Value)[] numbers)
    {
        if (!Has(verb))
        {
            throw new NotAbleException(Words(verb));
        }

        await BeginAsync(evenUntold: false, cancel);
        if (!_otherwise.Contains(verb))
        {
            try
            {
                return await ExchangeAsync(verb, dialect.Commands(verb, numbers), cancel);
            }
            catch (CommandUnknownException)
            {
                _otherwise.Add(verb);
            }
        }

        try
        {
            if (dialect.CommandsOtherwise(verb, numbers) is { } lines)
            {
                return await ExchangeAsync(verb, lines, cancel);
            }
        }
        catch (CommandUnknownException)
        {
            // The exception below says it.
        }

        _unknown.Add(verb);
        throw new NotAbleException(Words(verb));
    }

    /// <summary>Asks until two reports agree line by line, a bounded number of times.</summary>
    /// <returns>The lines believed; possibly none.</returns>
    public async Task<ImmutableArray<string>> AskUntilAgreedAsync(Verb verb, int attempts, CancellationToken cancel)
    {
        var agreed = new AgreedLines();
        for (int asked = 0; asked < attempts && !agreed.AreSettled; asked++)
        {
            ImmutableArray<string> lines = await SendAsync(verb, cancel);
            agreed.Add(lines);
        }

        return agreed.Believed;
    }

    /// <summary>Hands a verb's lines to the operating system at once, past whatever is under way; nobody learns here whether they arrived.</summary>
    /// <returns>Whether the operating system took them.</returns>
    public bool Interject(Verb verb, params (string Name, double Value)[] numbers)
    {
        bool taken = true;
        foreach (Command command in dialect.Commands(verb, numbers))
        {
            taken &= channel.Interject(command);
        }

        return taken;
    }

    /// <summary>Hands the halt line to the operating system, past every queue.</summary>
    public bool Halt()
    {
        bool taken = channel.Halt();
        _isOver = true;
        state.Lost(channel.ResetCount, isHalted: true);
        return taken;
    }

    private async Task<ImmutableArray<string>> ExchangeAsync(Verb verb, ImmutableArray<Command> commands, CancellationToken cancel)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        foreach (Command command in commands)
        {
            IsBrokenOff = true;
            Exchange exchange = await ExchangeAsync(verb, command, cancel);
            IsBrokenOff = false;
            lines.AddRange(exchange.Replies);
            if (command.Answer?.Invoke(exchange.Acknowledgement) == true)
            {
                lines.Add(exchange.Acknowledgement);
            }
        }

        return lines.ToImmutable();
    }

    private async Task<Exchange> ExchangeAsync(Verb verb, Command command, CancellationToken cancel)
    {
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                return await GuardedAsync(() => channel.SendAsync(command, cancel));
            }
            catch (CommandUncertainException) when (attempt < AttemptsWhenUncertain && SameWhenRepeated(verb))
            {
                // Carried out or not, carrying it out once more ends in the same state.
            }
        }
    }

    private static bool SameWhenRepeated(Verb verb) =>
        verb is not (Verb.MoveLevel or Verb.MoveHeight or Verb.LiftRelative or Verb.Touch or Verb.Nudge or Verb.ProbeMesh);

    private async Task<T> GuardedAsync<T>(Func<Task<T>> exchange)
    {
        try
        {
            return await exchange();
        }
        catch (Exception failure) when (failure is ControllerResetException or LinkLostException)
        {
            _isOver = true;
            state.Lost(channel.ResetCount, isHalted: false);
            throw;
        }
        catch (ControllerHaltedException)
        {
            _isOver = true;
            state.Lost(channel.ResetCount, isHalted: true);
            throw;
        }
    }

    private static string Words(Verb verb) => VerbTable.Rules[verb].Key.Replace('_', ' ');
}
