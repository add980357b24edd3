namespace ProbeRunner.Transport.Commands;

/// <summary>
/// One at a time, in the order they came. The framework's semaphore would resume cancellable waiters on the thread pool, behind the back
/// of a single-threaded virtual clock; here they resume in their own synchronization context.
/// </summary>
internal sealed class TurnQueue
{
    private readonly Lock _gate = new();
    private readonly LinkedList<TaskCompletionSource> _waiting = new();
    private bool _taken;

    /// <summary>Waits for the turn; give it back by <see cref="Leave"/>.</summary>
    public async ValueTask EnterAsync(CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        LinkedListNode<TaskCompletionSource> place;
        lock (_gate)
        {
            if (!_taken)
            {
                _taken = true;
                return;
            }

            place = _waiting.AddLast(new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously));
        }

        using (cancel.UnsafeRegister(_ => GiveUp(place, cancel), null))
        {
            await place.Value.Task;
        }
    }

    /// <summary>Gives the turn to the next in line.</summary>
    public void Leave()
    {
        lock (_gate)
        {
            if (_waiting.First is { } next)
            {
                _waiting.RemoveFirst();
                next.Value.SetResult();
                return;
            }

            _taken = false;
        }
    }

    private void GiveUp(LinkedListNode<TaskCompletionSource> place, CancellationToken cancel)
    {
        lock (_gate)
        {
            if (place.List is not null)
            {
                _waiting.Remove(place);
                place.Value.SetCanceled(cancel);
            }
        }
    }
}
