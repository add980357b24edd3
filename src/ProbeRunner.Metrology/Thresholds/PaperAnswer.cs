namespace ProbeRunner.Metrology.Thresholds;

/// <summary>What a person feels when paper is moved between nozzle and bed.</summary>
public enum PaperAnswer
{
    /// <summary>The paper moves as if the nozzle were not there.</summary>
    Free,

    /// <summary>The nozzle drags on the paper, and the paper still moves.</summary>
    Drags,

    /// <summary>The paper is held.</summary>
    Pinched,
}
