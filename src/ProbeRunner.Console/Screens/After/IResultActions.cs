using ProbeRunner.Records.Runs;

namespace ProbeRunner.Console.Screens.After;

/// <summary>What can be done with a run's results.</summary>
internal interface IResultActions
{
    /// <summary>Opens the report page, or says where it is.</summary>
    void OpenReport(RunRecord record);

    /// <summary>Saves the report page under a name the person types.</summary>
    void SaveReport(RunRecord record);

    /// <summary>Compares the map with an earlier one of the same machine.</summary>
    void CompareWithEarlier(RunResults results);
}
