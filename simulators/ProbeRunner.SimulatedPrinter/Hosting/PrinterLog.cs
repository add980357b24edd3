using System.Globalization;
using System.Text;
using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Hosting;

/// <summary>
/// What reached a simulated printer and what it did, a line each, handed to the operating system as it happens: whoever sent it, and however
/// the sender died, it can be counted. Never a height. Lines: <c>received COUNT TEXT</c>, <c>touch X Y</c>, <c>homing-touch X Y</c>, <c>restart</c>; places are the true ones.
/// </summary>
internal sealed class PrinterLog : IDisposable
{
    private readonly StreamWriter _writer;

    private PrinterLog(StreamWriter writer) => _writer = writer;

    /// <summary>Opens a file; what is in it stays.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public static PrinterLog AppendTo(string path) => new(new StreamWriter(path, append: true) { AutoFlush = true });

    /// <summary>Bytes came over the wire, one or many lines or a part of one.</summary>
    public void Received(ReadOnlySpan<byte> bytes)
    {
        var text = Encoding.ASCII.GetString(bytes).Replace("\r", "\\r", StringComparison.Ordinal).Replace("\n", "\\n", StringComparison.Ordinal);
        _writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"received {bytes.Length} {text}"));
    }

    /// <summary>The probe triggered.</summary>
    public void Touched(TrueTouch touch) =>
        _writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{(touch.ByHoming ? "homing-touch" : "touch")} {touch.X:F3} {touch.Y:F3}"));

    /// <summary>The controller starts anew.</summary>
    public void Restarted() => _writer.WriteLine("restart");

    /// <inheritdoc />
    public void Dispose() => _writer.Dispose();
}
