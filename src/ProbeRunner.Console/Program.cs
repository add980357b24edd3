using System.CommandLine;
using ProbeRunner.Console.Analyse;

return await new RootCommand("ProbeRunner") { AnalyseCommand.Create() }.Parse(args).InvokeAsync();
