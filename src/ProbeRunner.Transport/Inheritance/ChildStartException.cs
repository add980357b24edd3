namespace ProbeRunner.Transport.Inheritance;

/// <summary>A child process could not be started with the link's descriptor.</summary>
/// <param name="why">What happened.</param>
public sealed class ChildStartException(string why) : IOException(why);
