namespace ProbeRunner.Transport.Commands;

/// <summary>The controller starts, while a session begins: what was asked before is void, and it must be listened to again.</summary>
internal sealed class ControllerStartedException : Exception;
