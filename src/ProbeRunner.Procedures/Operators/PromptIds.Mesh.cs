namespace ProbeRunner.Procedures.Operators;

/// <summary>Questions of the hand-over of the correction mesh.</summary>
public static partial class PromptIds
{
    /// <summary>refuse / heat: the map was taken cold; a few touches on the hot bed correct it.</summary>
    public const string MeshHeat = "mesh.heat";

    /// <summary>Hands clear before the bed heats and is touched.</summary>
    public const string MeshHotHandsClear = "mesh.hot-hands-clear";

    /// <summary>Hands clear before the controller probes a mesh of its own.</summary>
    public const string MeshOwnHandsClear = "mesh.own-hands-clear";
}
