namespace ProbeRunner.Console.Screens.Pictures;

/// <summary>What the picture of a step shows: facts only, so that the same state always draws the same picture.</summary>
internal abstract record PictureState;
