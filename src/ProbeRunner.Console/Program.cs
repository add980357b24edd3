using ProbeRunner.Console.Commands;

return await CommandTree.RunAsync(args, ProgramContext.OfThisProcess());
