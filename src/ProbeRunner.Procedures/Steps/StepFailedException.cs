namespace ProbeRunner.Procedures.Steps;

/// <summary>A step met something it can't go on from; the run retreats and can be resumed.</summary>
public sealed class StepFailedException(string why) : Exception(why);
