using System.Globalization;

namespace ProbeRunner.Machine.Tests;

/// <summary>Runs a piece of a test under another culture.</summary>
internal static class InCulture
{
    public static void Run(string name, Action body)
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(name);
        try
        {
            body();
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
