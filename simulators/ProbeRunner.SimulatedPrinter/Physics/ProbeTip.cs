using ProbeRunner.SimulatedPrinter.Chance;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Physics;

/// <summary>The probe: its pin, its noise, its faults. Draws are keyed by the ordinal of the touch or homing; an extension's by the touch that follows it.</summary>
internal sealed class ProbeTip(ProbeScenario probe, ulong seed)
{
    private const double FlickerShare = 0.4;
    private long _touches;
    private long _homings;
    private long _looks;
    private bool _clicked;
    private double _extensionNoiseMm;
    private double _homingNoiseMm;

    /// <summary>Triggers so far.</summary>
    public long Touches => _touches;

    /// <summary>Whether it reaches below the nozzle now; a probe that is fixed is always where it senses, and nothing of it hangs down.</summary>
    public bool IsExtended { get; private set; } = !probe.Retracts;

    /// <summary>Whether something hangs out that could be dragged over the plate.</summary>
    public bool HangsOut => IsExtended && probe.Retracts;

    /// <summary>The pin's own alarm: it reports a trigger until it is cleared.</summary>
    public bool HasFault { get; private set; }

    /// <summary>A finger holds the pin up, or a metal plate is held under a probe that senses metal.</summary>
    public bool IsPushed { get; private set; }

    /// <summary>A finger will push the pin up during the next descent, while it is still high.</summary>
    public bool FingerWaits { get; set; }

    /// <summary>What is wrong with the probe.</summary>
    public ProbeDefect Defect { get; set; } = probe.Defect;

    /// <summary>Whether a finger's push during a descent reaches the controller at all.</summary>
    public bool CanFeel => Defect is not (ProbeDefect.NeverTriggers or ProbeDefect.StaysIn);

    /// <summary>What the controller sees when it looks now.</summary>
    public bool LooksTriggered()
    {
        var pressed = HasFault || (IsExtended && IsPushed);
        return Defect switch
        {
            ProbeDefect.StuckTriggered => true,
            ProbeDefect.NeverTriggers => false,
            ProbeDefect.Reversed => !pressed,
            ProbeDefect.Flickers => pressed ^ (KeyedNoise.Uniform(seed, NoiseKind.Flicker, ++_looks) < FlickerShare),
            _ => pressed,
        };
    }

    /// <summary>A finger pushes the pin up and holds it; some pins then pull themselves in.</summary>
    public void Push()
    {
        IsPushed = true;
        IsExtended &= !probe.PullsItselfIn;
    }

    /// <summary>The finger is taken away.</summary>
    public void LetGo() => IsPushed = false;

    /// <returns>Whether it came out.</returns>
    public bool Extend()
    {
        if (Defect == ProbeDefect.StaysIn)
        {
            HasFault = true;
            return false;
        }

        if (!IsExtended)
        {
            IsExtended = true;
            var ordinal = _touches + 1; // by the touch that will show it, so that an extension without one shifts no later draw
            _extensionNoiseMm = probe.ExtensionSdMm * KeyedNoise.Normal(seed, NoiseKind.Extension, ordinal);
            if (probe.ClickMm > 0 && KeyedNoise.Uniform(seed, NoiseKind.Click, ordinal) < probe.ClickChance)
            {
                _clicked = !_clicked;
            }
        }

        return true;
    }

    public void Retract() => IsExtended = IsExtended && (Defect == ProbeDefect.StaysOut || !probe.Retracts);

    public void ClearFault()
    {
        HasFault = false;
        Retract();
    }

    public void BeginHoming() => _homingNoiseMm = probe.HomingSdMm * KeyedNoise.Normal(seed, NoiseKind.Homing, ++_homings);

    public void EndHoming() => _homingNoiseMm = 0;

    /// <summary>The standard deviation of one touch, stray ones aside, mm.</summary>
    /// <param name="feed">How fast the tip comes down, mm/s.</param>
    /// <param name="seconds">How long it has been coming down.</param>
    public double TouchSdMm(double feed, double seconds)
    {
        var haste = probe.HasteSdMm * feed * feed;
        var swing = probe.SwingSdMm * Math.Exp(-seconds / probe.SwingSeconds);
        return Math.Sqrt((probe.TouchSdMm * probe.TouchSdMm) + (haste * haste) + (swing * swing));
    }

    /// <summary>The error of the next trigger: how much higher than without noise the nozzle is, mm.</summary>
    /// <param name="feed">How fast the tip comes down, mm/s.</param>
    /// <param name="seconds">How long it has been coming down.</param>
    public double NextErrorMm(double feed, double seconds)
    {
        var ordinal = ++_touches;
        var isOutlier = probe.OutlierShare > 0 && KeyedNoise.Uniform(seed, NoiseKind.TouchTail, ordinal) < probe.OutlierShare;
        var sd = isOutlier ? probe.OutlierSdMm : TouchSdMm(feed, seconds);
        return (sd * KeyedNoise.Normal(seed, NoiseKind.Touch, ordinal)) - (probe.DelaySeconds * feed) + _extensionNoiseMm + _homingNoiseMm + (_clicked ? probe.ClickMm : 0);
    }

    /// <summary>The nozzle's height above the bed at a trigger without noise, with the carriage at a place, cold, mm.</summary>
    public double TriggerDistanceMm(double fromMiddleX, double fromMiddleY) =>
        probe.TriggerDistanceMm + (probe.LeanX * fromMiddleX) + (probe.LeanY * fromMiddleY);
}
