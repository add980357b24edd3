using ProbeRunner.Console.Screens.Running;
using ProbeRunner.Console.Screens.Shell;
using ProbeRunner.Transport.Tracing;

namespace ProbeRunner.Console.Tests.Screens.Whole;

/// <summary>A stretch of the wire, a device's rubbish included.</summary>
internal static class WireSamples
{
    private static readonly (WireDirection Direction, string Text)[] Lines =
    [
        (WireDirection.Note, "connected"),
        (WireDirection.Received, "start"),
        (WireDirection.Sent, "N1 M105*37"),
        (WireDirection.Received, "ok T:24.1 /0.0 B:22.8 /0.0 @:0 B@:0"),
        (WireDirection.Sent, "N2 G30 X120 Y120*108"),
        (WireDirection.Received, "echo:busy: processing"),
        (WireDirection.Received, "Bed X: 120.00 Y: 120.00 Z: 2.153"),
        (WireDirection.Received, "ok"),
        (WireDirection.Received, "\u001b[2Jhello\u0007, a line as a broken controller may send it, longer than any terminal is wide: it must be cut off at the edge of the screen, not wrap"),
        (WireDirection.Sent, "N3 M114*33"),
        (WireDirection.Received, "X:120.00 Y:110.00 Z:7.20 E:0.00 Count X:9600 Y:8800 Z:2880"),
        (WireDirection.Received, "ok"),
    ];

    /// <summary>Those lines, a few times over.</summary>
    public static WireTrace Recorded()
    {
        var trace = new WireTrace(new Clock());
        for (var round = 0; round < 4; round++)
        {
            foreach (var (direction, text) in Lines)
            {
                trace.Record(direction, text);
            }
        }

        return trace;
    }

    /// <summary>The screen after a search, with the line found.</summary>
    public static void Searched(Desk desk)
    {
        var trace = Recorded();
        var screen = new WireScreen(desk, () => trace);
        desk.Open(screen);
        screen.Draw(new ProbeRunner.Console.Screens.Drawing.CellCanvas(80, 24), desk.Palette); // a search goes through what stands on the screen
        desk.Press('/');
        desk.Paste("Bed X");
        desk.Press(ProbeRunner.Console.Screens.Keys.Stroke.Enter);
        desk.Press('n');
    }

    /// <summary>A clock that moves on by itself, a few milliseconds a look.</summary>
    private sealed class Clock : TimeProvider
    {
        private DateTimeOffset now = new(2026, 11, 25, 14, 2, 7, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => now += TimeSpan.FromMilliseconds(137);
    }
}
