using ProbeRunner.SimulatedPrinter.Hosting;

return await SimulatorProgram.RunAsync(args, Console.In, Console.Out, Console.Error);
