namespace ProbeRunner.Procedures.Engine;

/// <summary>A run can't be taken up again as asked; nothing has moved.</summary>
public sealed class ResumeRefusedException(string why) : Exception(why);

/// <summary>A run script can't be run as asked; nothing has moved.</summary>
public sealed class ScriptRefusedException(string why) : Exception(why);

/// <summary>A stop was asked for; unwinds the step.</summary>
internal sealed class StopAskedException(string why) : Exception(why);

/// <summary>A watch saw something wrong; unwinds the step.</summary>
internal sealed class WatchTrippedException(string why) : Exception(why);

/// <summary>The machine was halted; unwinds the step.</summary>
internal sealed class HaltedException() : Exception("Halted by the operator.");

/// <summary>The section in hand must be taken again; caught where the section began.</summary>
internal sealed class RetakeSectionException(string why) : Exception(why);
