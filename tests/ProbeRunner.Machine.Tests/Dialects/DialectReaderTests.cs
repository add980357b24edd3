using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Tests.Dialects;

public sealed class DialectReaderTests
{
    private static string LineAck => Shipped.LineAck.Text;

    [Theory]
    [InlineData("position = \"M114\"", "positon = \"M114\"", "did you mean position?")]
    [InlineData("touch = \"G30 X{x:3} Y{y:3}\"", "touch = \"G30 X{x:3}\"", "the parameter y is not used")]
    [InlineData("touch = \"G30 X{x:3} Y{y:3}\"", "touch = \"G30 X{x:3} Y{y:3} Z{z:3}\"", "unknown parameter z")]
    [InlineData("home_z = \"G28 Z\"", "home_z = \"G28 Z ; gently\"", "is no command template")]
    [InlineData("'^\\s*wait\\s*$'", "'^(?=wait)'", "without look-around")]
    [InlineData("halt = \"M112\"", "halt = \"M112 S{x:0}\"", "no fixed line")]
    [InlineData("touch_report = \"offset-included\"", "touch_report = \"offset\"", "offset-included")]
    [InlineData("(?<state>on|off)\\s*$'", "(on|off)\\s*$'", "no group named state")]
    [InlineData("query = 5", "query = 0", "from 0.1 to 3600")]
    public void A_wrong_dialect_names_what_is_accepted(string right, string wrong, string expected)
    {
        Assert.Contains(right, LineAck, StringComparison.Ordinal);
        string text = LineAck.Replace(right, wrong, StringComparison.Ordinal);

        FileFaultException faults = Assert.Throws<FileFaultException>(() => DialectReader.Read(TomlFile.Parse(text, "d.toml")));

        Assert.Contains(faults.Faults, fault => fault.Where.Line > 0 && fault.ToString().Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_dialect_may_lack_what_safety_does_not_rest_on()
    {
        string[] lacking = ["store_settings", "write_mesh_node", "dwell", "read_settings"];
        string text = string.Join('\n', LineAck.Split('\n').Where(line => !lacking.Any(verb => line.StartsWith(verb + " =", StringComparison.Ordinal))));

        Dialect dialect = DialectReader.Read(TomlFile.Parse(text, "d.toml"));

        Assert.False(dialect.Has(Verb.StoreSettings));
        Assert.False(dialect.Has(Verb.WriteMeshNode));
        Assert.True(dialect.Has(Verb.Touch));
    }
}
