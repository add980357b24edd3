using System.Diagnostics.CodeAnalysis;

namespace ProbeRunner.Metrology.Results;

/// <summary>
/// What a computation gives back: either a <see cref="Known{T}"/> value, all of whose numbers are finite,
/// or a <see cref="Refused{T}"/> with the reason why these inputs have no answer.
/// </summary>
/// <typeparam name="T">The value when there is one.</typeparam>
public abstract record Answer<T>
{
    private protected Answer()
    {
    }

    /// <summary>True when there is a value.</summary>
    public bool IsKnown => this is Known<T>;

    /// <summary>The reason of a refusal; null when there is a value.</summary>
    public Reason? Refusal => (this as Refused<T>)?.Why;

    /// <summary>The value, for callers that have already made sure there is one.</summary>
    /// <exception cref="InvalidOperationException">The answer is a refusal; the message is its reason.</exception>
    public T Value => this switch
    {
        Known<T> known => known.Content,
        Refused<T> refused => throw new InvalidOperationException(refused.Why.Message),
        _ => throw new InvalidOperationException("An answer is either known or refused."),
    };

    /// <summary>The value, or <paramref name="otherwise"/> when it was refused.</summary>
    public T? OrElse(T? otherwise) => this is Known<T> known ? known.Content : otherwise;

    /// <summary>Applies <paramref name="next"/> to the value; a refusal passes through.</summary>
    public Answer<TNext> Then<TNext>(Func<T, Answer<TNext>> next)
    {
        ArgumentNullException.ThrowIfNull(next);
        return this is Known<T> known ? next(known.Content) : new Refused<TNext>(Refusal!);
    }

    /// <summary>A value is an answer.</summary>
    [SuppressMessage("Usage", "CA2225", Justification = "Answer.Known is the named form.")]
    public static implicit operator Answer<T>(T value) => new Known<T>(value);

    /// <summary>A reason is an answer too: a refusal.</summary>
    [SuppressMessage("Usage", "CA2225", Justification = "Answer.Refused is the named form.")]
    public static implicit operator Answer<T>(Reason why) => new Refused<T>(why);
}

/// <summary>An answer with a value.</summary>
/// <param name="Content">The value; every number in it is finite.</param>
public sealed record Known<T>(T Content) : Answer<T>;

/// <summary>An answer that was refused.</summary>
/// <param name="Why">The reason.</param>
public sealed record Refused<T>(Reason Why) : Answer<T>;

/// <summary>Makers of answers where the type must be named.</summary>
public static class Answer
{
    /// <summary>An answer with a value.</summary>
    public static Answer<T> Known<T>(T value) => new Known<T>(value);

    /// <summary>A refusal.</summary>
    public static Answer<T> Refused<T>(RefusalKind kind, string message) => new Refused<T>(new Reason(kind, message));
}
