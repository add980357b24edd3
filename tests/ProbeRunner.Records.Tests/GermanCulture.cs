using System.Globalization;
using System.Runtime.CompilerServices;

namespace ProbeRunner.Records.Tests;

/// <summary>All tests run under a culture with decimal commas, so that a number that follows the machine's culture shows itself.</summary>
internal static class GermanCulture
{
    [ModuleInitializer]
    public static void Use()
    {
        var german = CultureInfo.GetCultureInfo("de-DE");
        CultureInfo.DefaultThreadCurrentCulture = german;
        CultureInfo.DefaultThreadCurrentUICulture = german;
        CultureInfo.CurrentCulture = german;
    }
}
