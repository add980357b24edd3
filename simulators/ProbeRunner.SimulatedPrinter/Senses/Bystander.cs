using System.Globalization;
using ProbeRunner.SimulatedPrinter.Chance;
using ProbeRunner.SimulatedPrinter.Controller;
using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Senses;

/// <summary>
/// The person at the machine. Verbs and their answers:
/// <list type="table">
/// <item><term><c>paper in</c>, <c>paper out</c></term><description><c>ok</c></description></item>
/// <item><term><c>feel</c></term><description><c>free</c>, <c>drags</c>, <c>pinched</c>; <c>no paper</c> when there is none</description></item>
/// <item><term><c>look gap</c></term><description><c>touching</c>, <c>paper-thin</c> (to 0.3 mm), <c>about-one-mm</c> (to 2), <c>few-mm</c> (to 8), <c>wide</c></description></item>
/// <item><term><c>look motion</c></term><description>what moved last: <c>nothing</c>, <c>nozzle up|down|left|right|back|front</c>, <c>bed back|front</c></description></item>
/// <item><term><c>push head</c></term><description>gently, by hand: <c>free</c> when the motors have let go, <c>holds</c></description></item>
/// <item><term><c>look end SWITCH</c></term><description>whether the machine stands at the end of travel where a switch of that name is: <c>there</c>, <c>away</c></description></item>
/// <item><term><c>look pin</c></term><description><c>extended</c> or <c>retracted</c></description></item>
/// <item><term><c>look plate</c></term><description>the name written on the sheet that lies on the bed: <c>smooth</c></description></item>
/// <item><term><c>lay plate NAME</c></term><description>another sheet, as thick as the one before: <c>ok</c></description></item>
/// <item><term><c>look heaters</c></term><description>their lamps: <c>off</c>, <c>nozzle</c>, <c>bed</c>, <c>both</c></description></item>
/// <item><term><c>look patch X Y</c></term><description>the plastic laid last near a place: <c>gaps</c>, <c>good</c>, <c>ridges</c>, <c>nothing</c></description></item>
/// <item><term><c>mark here</c></term><description>draws a cross on the bed where the nozzle points, as well as a hand can: <c>ok</c></description></item>
/// <item><term><c>look mark</c></term><description>where the probe's tip is, seen from the cross: <c>left</c>, <c>right</c>, <c>front</c>, <c>back</c> (the larger), <c>over</c>; <c>no mark</c></description></item>
/// <item><term><c>finger on</c>, <c>finger off</c></term><description>pushes the pin up and holds it (or holds metal under a fixed probe), lets it go: <c>ok</c></description></item>
/// <item><term><c>finger next-descent</c></term><description>pushes it up during the next touch or homing of Z, while it is still high: <c>ok</c></description></item>
/// <item><term><c>turn screw NAME TURNS</c></term><description>positive clockwise, seen from above: <c>ok</c></description></item>
/// <item><term><c>look gantry</c></term><description>on equal blocks, which end is off: <c>left-off</c>, <c>right-off</c>, <c>both-rest</c></description></item>
/// <item><term><c>lower gantry left|right</c></term><description>turns that end's drive by hand until it rests on its block, as well as a hand can: <c>ok</c>; nothing moves while the motors hold</description></item>
/// <item><term><c>measure stack N</c></term><description>a caliper over so many sheets of the paper, in mm: <c>2.03</c></description></item>
/// <item><term><c>wipe nozzle</c></term><description><c>ok</c></description></item>
/// <item><term><c>pull cable</c>, <c>plug cable</c></term><description><c>ok</c></description></item>
/// <item><term><c>power off</c>, <c>power on</c>, <c>power cycle</c></term><description>the mains switch: <c>ok</c></description></item>
/// </list>
/// </summary>
internal sealed class Bystander(Scenario scenario, PrinterBody body, ControllerState state, MachineHandles handles)
{
    private const string Done = "ok";
    private static readonly string[] Drags = ["free", "drags", "pinched"];

    /// <summary>A pen held to a tip, and an eye above one; from memory.</summary>
    private const double HandSdMm = 0.1;
    private const double EyeSdMm = 0.07;

    /// <summary>A caliper on a soft stack; from memory.</summary>
    private const double CaliperSdMm = 0.01;
    private const double LooksRightMm = 0.2;

    /// <summary>What a slip of paper under an end of the gantry tells; from memory.</summary>
    private const double SlipSdMm = 0.02;
    private const double SlipSeesMm = 0.08;
    private (double X, double Y)? _mark;
    private bool _paperIn;
    private string _plate = "smooth";
    private long _feels;
    private long _turns;
    private long _looks;

    /// <summary>Answers one line.</summary>
    public string Answer(string question)
    {
        var words = question.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return words switch
        {
            ["paper", "in" or "out"] => Do(() => _paperIn = words[1] == "in"),
            ["feel"] => Feel(),
            ["look", "gap"] => LookAtGap(),
            ["look", "motion"] => LookAtMotion(),
            ["look", "pin"] => body.Probe.IsExtended ? "extended" : "retracted",
            ["push", "head"] => body.MotorsHold ? "holds" : "free",
            ["look", "end", var name, ..] => LookAtEnd(name),
            ["look", "plate"] => _plate,
            ["lay", "plate", var name] => Do(() => _plate = name),
            ["look", "heaters"] => LookAtHeaters(),
            ["look", "patch", var x, var y] => LookAtPatch(x, y),
            ["mark", "here"] => Do(() => _mark = (body.Motor.X + Unsteady(HandSdMm), body.Motor.Y + Unsteady(HandSdMm))),
            ["look", "mark"] => LookAtMark(),
            ["finger", "on" or "off"] => Do(words[1] == "on" ? body.Probe.Push : body.Probe.LetGo),
            ["finger", "next-descent"] => Do(() => body.Probe.FingerWaits = true),
            ["turn", "screw", .. var name, var turns] => TurnScrew(string.Join(' ', name), turns),
            ["look", "gantry"] => LookAtGantry(),
            ["lower", "gantry", "left" or "right"] => LowerGantry(),
            ["measure", "stack", var sheets] => MeasureStack(sheets),
            ["wipe", "nozzle"] => Do(() => body.ResidueMm = 0),
            ["pull", "cable"] => Do(handles.PullCable),
            ["plug", "cable"] => Do(handles.PlugCable),
            ["power", "off"] => Do(handles.PowerOff),
            ["power", "on"] => Do(handles.PowerOn),
            ["power", "cycle"] => Do(() =>
            {
                handles.PowerOff();
                handles.PowerOn();
            }),
            _ => "? not understood",
        };
    }

    private static string Do(Action act)
    {
        act();
        return Done;
    }

    private string Feel()
    {
        if (!_paperIn)
        {
            return "no paper";
        }

        var (person, ordinal) = (scenario.Person, ++_feels);
        if (KeyedNoise.Uniform(scenario.Seed, NoiseKind.FeelLapse, ordinal) < person.LapseChance)
        {
            return Drags[KeyedNoise.Hash(scenario.Seed, NoiseKind.FeelLapse, -ordinal) % 3];
        }

        var felt = body.GapMm - body.ResidueMm + (person.FeelSdMm * KeyedNoise.Normal(scenario.Seed, NoiseKind.Feel, ordinal));
        return felt > person.PaperMm ? "free" : felt > person.PaperMm - person.PaperSoftnessMm ? "drags" : "pinched";
    }

    private string LookAtGap()
    {
        // An eye is a tenth off.
        var seen = (body.GapMm - body.ResidueMm) * (1 + (0.1 * KeyedNoise.Normal(scenario.Seed, NoiseKind.Eye, ++_looks)));
        return seen switch
        {
            < 0.03 => "touching",
            < 0.3 => "paper-thin",
            < 2 => "about-one-mm",
            < 8 => "few-mm",
            _ => "wide",
        };
    }

    private string LookAtMotion()
    {
        var (x, y, z) = body.LastMove;
        if (body.LastMove == default)
        {
            return "nothing";
        }

        if (Math.Abs(z) >= Math.Max(Math.Abs(x), Math.Abs(y)))
        {
            return z > 0 ? "nozzle up" : "nozzle down";
        }

        if (Math.Abs(x) >= Math.Abs(y))
        {
            return x > 0 ? "nozzle right" : "nozzle left";
        }

        // Where the bed moves, the nozzle gets over a place farther back by the bed coming to the front.
        return scenario.Bed.MovesAlongY ? (y > 0 ? "bed front" : "bed back") : (y > 0 ? "nozzle back" : "nozzle front");
    }

    private string LookAtEnd(string name) => name[..1] switch
    {
        "x" => body.Motor.X <= scenario.Travel.MinX ? "there" : "away",
        "y" => body.Motor.Y <= scenario.Travel.MinY ? "there" : "away",
        "z" => body.Motor.Z <= 0 ? "there" : "away",
        _ => "? there is no such end",
    };

    private string LookAtHeaters() => (body.Expansion.NozzleTargetCelsius > 0, body.Expansion.BedTargetCelsius > 0) switch
    {
        (true, true) => "both",
        (true, false) => "nozzle",
        (false, true) => "bed",
        _ => "off",
    };

    /// <summary>How far a hand or an eye is off this time, mm.</summary>
    private double Unsteady(double sdMm) => sdMm * KeyedNoise.Normal(scenario.Seed, NoiseKind.Eye, ++_looks);

    private string LookAtMark()
    {
        if (_mark is not { } mark)
        {
            return "no mark";
        }

        var x = body.Motor.X + body.ProbeOffset.X - mark.X + Unsteady(EyeSdMm);
        var y = body.Motor.Y + body.ProbeOffset.Y - mark.Y + Unsteady(EyeSdMm);
        if (Math.Max(Math.Abs(x), Math.Abs(y)) <= LooksRightMm)
        {
            return "over";
        }

        return Math.Abs(x) >= Math.Abs(y) ? (x < 0 ? "left" : "right") : (y < 0 ? "front" : "back");
    }

    private string LookAtGantry()
    {
        var seen = body.GantryDifferenceMm + Unsteady(SlipSdMm);
        return Math.Abs(seen) <= SlipSeesMm ? "both-rest" : seen > 0 ? "right-off" : "left-off";
    }

    private string LowerGantry()
    {
        if (body.Homed is { X: false, Y: false, Z: false })
        {
            body.GantryDifferenceMm = Unsteady(SlipSdMm);
        }

        return Done;
    }

    private string LookAtPatch(string x, string y) =>
        double.TryParse(x, CultureInfo.InvariantCulture, out var atX) && double.TryParse(y, CultureInfo.InvariantCulture, out var atY)
            ? state.Laid.LookAt(atX, atY)
            : "? a patch has two numbers";

    private string MeasureStack(string sheets) =>
        int.TryParse(sheets, CultureInfo.InvariantCulture, out var count) && count is > 0 and <= 1000
            ? FormattableString.Invariant($"{(count * scenario.Person.PaperMm) + Unsteady(CaliperSdMm):0.00}")
            : "? a stack has 1 to 1000 sheets";

    private string TurnScrew(string name, string turns)
    {
        if (!double.TryParse(turns, CultureInfo.InvariantCulture, out var asked) || !double.IsFinite(asked) || Math.Abs(asked) > 20)
        {
            return "? turns are a number up to 20";
        }

        var error = scenario.Person.ScrewSdTurns * KeyedNoise.Normal(scenario.Seed, NoiseKind.Screw, ++_turns);
        return body.Screws.Turn(name, asked == 0 ? 0 : asked + error) ? Done : "? there is no such screw";
    }
}
