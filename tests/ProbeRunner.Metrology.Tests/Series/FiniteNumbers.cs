using System.Collections;
using System.Reflection;
using ProbeRunner.Metrology.Results;

namespace ProbeRunner.Metrology.Tests.Series;

/// <summary>Walks a result and asserts that every number in it is finite.</summary>
internal static class FiniteNumbers
{
    internal static void AssertAll(object? result, string path = "")
    {
        switch (result)
        {
            case null or string or Enum or bool or int or long or Reason:
                return;
            case double number:
                Assert.True(double.IsFinite(number), path);
                return;
            case IEnumerable many:
                foreach (object? item in many)
                {
                    AssertAll(item, path + "[]");
                }

                return;
        }

        bool refused = result.GetType().GetProperty("Refusal")?.GetValue(result) is not null;
        foreach (PropertyInfo property in result.GetType().GetProperties().Where(p => p.GetIndexParameters().Length == 0))
        {
            if (property.Name != "EqualityContract" && !(refused && property.Name == "Value"))
            {
                AssertAll(property.GetValue(result), path + "." + property.Name);
            }
        }
    }
}
