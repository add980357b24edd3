using System.Collections.Concurrent;
using System.Collections.Immutable;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Metrology.JointModel;
using ProbeRunner.Procedures.Conclusions;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Scripts;
using ProbeRunner.Procedures.Steps.CheckAgain;
using ProbeRunner.Procedures.Tests.Bench;
using ProbeRunner.SimulatedPrinter.Time;

namespace ProbeRunner.Procedures.Tests.Safety;

/// <summary>
/// A law: whichever steps run, whatever they found switched, at whichever row of the record and in whichever way the run is left without
/// having stored, the controller has what the run found.
/// </summary>
public sealed class SettingsOnEveryWayOutTests
{
    private const int CasesEach = 6;
    private const int FirstRow = 5;

    private static readonly string[] Beginning = ["do = \"preflight\"\nquestions = false", "first-lift", "home-xy", "self-check", "first-home-z"];

    /// <summary>By name: the machine, the steps, and whether they switch the controller off and on themselves.</summary>
    private static readonly ImmutableSortedDictionary<string, (string Scenario, Func<RunScript> Script, bool Resets)> Runs =
        new Dictionary<string, (string, Func<RunScript>, bool)>(StringComparer.Ordinal)
        {
            ["trials"] = ("good", () => TestBench.Steps([.. Beginning, "axis-moves", "heater-trial", "touch-report-check", "gantry-level", "halt-trial"]), true),
            ["offset in x and y"] = ("good", () => TestBench.Steps([.. Beginning, "probe-offset"]), false),
            ["hot paper"] = ("good", () => TestBench.Steps([.. Beginning, "series", "do = \"step-down\"\nsoak_minutes = 1\ntakes = 1", "verify"]), false),
            ["mesh"] = ("good", () => TestBench.Steps([.. Beginning, "series", "do = \"step-down\"\ncold = true\ntakes = 1", "do = \"grid\"\ncolumns = 4\nrows = 4", "do = \"mesh\"\nany_conditions = true", "verify"]), false),
            ["first layer"] = ("good", () => TestBench.Steps([.. Beginning, "series", "do = \"step-down\"\ncold = true\ntakes = 1", "do = \"grid\"\ncolumns = 4\nrows = 4", "do = \"mesh\"\nany_conditions = true", "verify", "first-layer"]), false),
            ["lean"] = ("good", () => TestBench.Script("check-lean"), false),
            ["screws"] = ("tilted", () => TestBench.Script("level-screws"), false),
            ["tuning"] = ("good", () => TestBench.Script("tune-touch"), false),
            ["warm-up"] = ("good", () => TestBench.Script("watch-warm-up"), false),
            ["check again"] = ("good", CheckAgain, false),
            ["silence"] = ("goes-cold", () => TestBench.Steps("do = \"silence-trial\"\nsilence_seconds = 110"), false),
            ["heated grid"] = ("good", () => TestBench.Steps("first-lift", "home", "do = \"grid\"\ncolumns = 3\nrows = 3\nbed_celsius = 40\nnozzle_celsius = 120\nsoak_minutes = 1\npause_bed_heater = true\ntouch_feed_mm_per_min = 120"), false),
            ["heated guided"] = ("good", () => TestBench.Steps("first-lift", "home", "do = \"guided-capture\"\nmost_touches = 20\nbed_celsius = 40\nsoak_minutes = 1"), false),
            ["guided"] = ("good", () => TestBench.Script("guided-map"), false),
        }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    private static readonly ConcurrentDictionary<string, int> RowsOf = new();

    public static TheoryData<string> Names => [.. Runs.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Whatever_runs_and_however_it_is_left_the_settings_are_as_found(string name)
    {
        RowsOf[name] = RowsOfWhole(name);
        var wrong = new ConcurrentQueue<string>();
        Parallel.For(0, CasesEach, seed => Try(name, seed, wrong));

        Assert.True(wrong.IsEmpty, string.Join('\n', wrong.Order(StringComparer.Ordinal)));
    }

    private static RunScript CheckAgain()
    {
        var earlier = new EarlierCapture(
            "a-run", [.. Enumerable.Range(0, 16).Select(place => new CaptureReading(30 + (place % 4 * 45), 30 + (place / 4 * 55), 2.15 + (0.001 * place), 10 * place, 1))], [], null, null, null);
        return RunScript.Parse(TestBench.Steps("first-lift", "home", "do = \"check-again\"\ncolumns = 4\nrows = 4").Text, "again", earlier.Parameters());
    }

    private static int RowsOfWhole(string name)
    {
        int rows = 0;
        VirtualTime.Run(async time =>
        {
            await using SimulatedBench bench = await SimulatedBench.StartAsync(time, Runs[name].Scenario);
            SettingsSeen before = SettingsSeen.Of(bench.Host.Truth);

            RunOutcome outcome = await bench.RunAsync(Runs[name].Script());

            Assert.True(outcome is RunOutcome.Completed, outcome.Why);
            Assert.Equal(before, SettingsSeen.Of(bench.Host.Truth));
            rows = bench.Journal.Entries.Count;
        });
        return rows;
    }

    private static void Try(string name, int seed, ConcurrentQueue<string> wrong) => VirtualTime.Run(async time =>
    {
        (string scenario, Func<RunScript> script, bool resets) = Runs[name];
        var chance = new Random(seed);
        int row = chance.Next(FirstRow, RowsOf[name]);
        var way = (WayOut)(seed % Enum.GetValues<WayOut>().Length);
        bool asShipped = way == WayOut.Halt || resets; // a reset takes away what was switched and not stored
        (bool limits, bool correction) = (asShipped || chance.Next(2) == 0, !asShipped && chance.Next(2) == 0);
        await using SimulatedBench bench = await SimulatedBench.StartAsync(time, scenario);
        await SwitchAsync(bench, limits, correction);
        SettingsSeen before = SettingsSeen.Of(bench.Host.Truth);

        RunOutcome outcome = await LeaveAsync(bench, script(), way, row);
        if (way == WayOut.Halt)
        {
            await bench.ComeBackAsync();
        }
        else if (way == WayOut.Cable && outcome is not RunOutcome.Completed)
        {
            await bench.ReconnectAsync();
            await bench.RunAsync(script(), engine => engine.Control.Stop());
        }

        var after = SettingsSeen.Of(bench.Host.Truth);
        string about = $"{name} {seed}, {way} at row {row}, found limits {limits}, correction {correction}, {outcome.GetType().Name} {outcome.Why}";
        if (after != before)
        {
            wrong.Enqueue($"{about}: {before} became {after}");
        }

        if (bench.Host.Truth.IllegalMoves.Count > 0)
        {
            wrong.Enqueue($"{about}: {bench.Host.Truth.IllegalMoves[0]}");
        }
    });

    private static async Task SwitchAsync(SimulatedBench bench, bool limits, bool correction)
    {
        if (!limits)
        {
            await bench.Printer.SetSoftLimitsAsync(false, default);
        }

        if (correction)
        {
            var mesh = bench.Printer.Profile.Mesh;
            await bench.Printer.WriteMeshAsync(new MeshNodes(mesh.Area, mesh.Columns, mesh.Rows, [.. Enumerable.Repeat(0.02, mesh.Columns * mesh.Rows)]), default);
            await bench.Printer.SetMeshCorrectionAsync(true, default);
        }

        if (!limits || correction)
        {
            await bench.ReconnectAsync();
        }
    }

    private static async Task<RunOutcome> LeaveAsync(SimulatedBench bench, RunScript script, WayOut way, int row)
    {
        bool isLeft = false;
        bench.Journal.FailsAtRow = way == WayOut.Error ? row : 0;
        bench.Person.Before = _ =>
        {
            if (isLeft && way == WayOut.OperatorGone)
            {
                throw new OperatorGoneException("Nobody is there.");
            }
        };
        RunOutcome outcome = await bench.RunAsync(script, engine => bench.Journal.Appended = entry =>
        {
            if (isLeft || entry.Ordinal < row || way is WayOut.Ends or WayOut.Error)
            {
                return;
            }

            isLeft = true;
            switch (way)
            {
                case WayOut.Stop:
                    engine.Control.Stop();
                    break;
                case WayOut.Halt:
                    engine.Control.Halt();
                    break;
                case WayOut.Cable:
                    bench.Host.PullCable();
                    break;
            }
        });
        (bench.Journal.Appended, bench.Journal.FailsAtRow, bench.Person.Before) = (null, 0, null);
        return outcome;
    }
}
