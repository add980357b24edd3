using ProbeRunner.Machine.Dialects;

namespace ProbeRunner.Machine.Printers;

/// <summary>Letting go of the motors on purpose.</summary>
public sealed partial class Printer
{
    /// <inheritdoc />
    public async Task ReleaseMotorsAsync(CancellationToken cancel)
    {
        if (!_session.Has(Verb.ReleaseMotors))
        {
            throw new NotAbleException("let go of its motors when told to");
        }

        await QuiesceAsync(cancel);
        _state.MotorsReleased();
        await _session.SendAsync(Verb.ReleaseMotors, cancel);
    }
}
