using System.Globalization;
using ProbeRunner.Benchmarks;

// Figures are read by people and scripts alike: invariant numbers whatever the machine's language.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;

if (args.Length == 0 || !CampaignTable.All.TryGetValue(args[0], out var campaign))
{
    Console.Error.WriteLine("Name one of these:");
    foreach (var (name, entry) in CampaignTable.All)
    {
        Console.Error.WriteLine($"  {name,-18} {entry.Purpose}");
    }

    return args.Length == 0 ? 0 : 2;
}

campaign.Run(Console.Out, args[1..]);
return 0;
