namespace ProbeRunner.Records.Store;

/// <summary>The store cannot be opened or used as it is: not ours, newer than this program, no such run, taken by another process.</summary>
public sealed class StoreUnusableException(string what, Exception? inner = null) : Exception(what, inner);
