namespace ProbeRunner.Machine.Guard;

/// <summary>The motion guard refused a motion; nothing was sent.</summary>
/// <param name="refusal">Why.</param>
public sealed class MotionRefusedException(MotionRefusal refusal)
    : InvalidOperationException($"This motion is not provably safe and was not sent: {refusal.Facts}")
{
    /// <summary>Why.</summary>
    public MotionRefusal Refusal { get; } = refusal;
}
