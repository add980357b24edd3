using ProbeRunner.SimulatedPrinter.Physics;
using ProbeRunner.SimulatedPrinter.Scenarios;

namespace ProbeRunner.SimulatedPrinter.Controller;

/// <summary>The controller's own long motions: homing, touches, probing its mesh, moving the pin. Each is a sequence of phases.</summary>
internal sealed class ProbingCommands(
    Scenario scenario, PrinterBody body, ControllerState state, Kinematics kinematics, Wording wording, Action<string> say, Action halt)
{
    private const double BackOffMm = 2;
    private const double SlowShare = 0.4;
    private const double SearchMm = 300;
    private readonly TravelScenario _travel = scenario.Travel;
    private readonly ProbeScenario _probe = scenario.Probe;

    /// <summary>Homes axes; with the probe as end switch, Z needs X and Y.</summary>
    public IEnumerable<Phase> Home(bool x, bool y, bool z)
    {
        state.MeshOn &= scenario.Controller.KeepsMeshOnHoming;
        if (z && ((!x && !body.Homed.X) || (!y && !body.Homed.Y)))
        {
            say(Wording.HomeFirst);
            yield break;
        }

        yield return To(body.Motor with { Z = body.Motor.Z + _probe.LiftMm }, _travel.MaxFeedZ);
        if (x)
        {
            yield return To(body.Motor with { X = _travel.MinX }, _travel.HomingFeedXY);
            state.HomedLevel(x: true, y: false);
        }

        if (y)
        {
            yield return To(body.Motor with { Y = _travel.MinY }, _travel.HomingFeedXY);
            state.HomedLevel(x: false, y: true);
        }

        foreach (var phase in z ? (_travel.HomesWithProbe ? HomeByProbe() : HomeBySwitch()) : [])
        {
            yield return phase;
        }

        state.Sync();
    }

    /// <summary>One touch with the probe's tip at a place in bed coordinates.</summary>
    public IEnumerable<Phase> Touch(double tipX, double tipY, double reportX, double reportY)
    {
        var touched = default(double?);
        foreach (var phase in TouchAt(tipX, tipY, z => touched = z))
        {
            yield return phase;
        }

        if (touched is { } height)
        {
            var reported = height + (scenario.Controller.TouchIncludesOffset ? state.Live.OffsetZ : 0);
            var (aside, behind) = scenario.Controller.TouchNamesNozzlePlace ? (state.Live.OffsetX, state.Live.OffsetY) : (0, 0);
            say(wording.Touched(reportX - aside, reportY - behind, reported));
        }
    }

    /// <summary>Touches the bed at every node and takes the heights as the mesh, 0 at the homing place.</summary>
    public IEnumerable<Phase> ProbeMesh()
    {
        state.MeshOn = false;
        var grid = scenario.Mesh;
        var heights = new double[grid.Columns * grid.Rows];
        for (var row = 0; row < grid.Rows; row++)
        {
            for (var step = 0; step < grid.Columns; step++)
            {
                var column = row % 2 == 0 ? step : grid.Columns - 1 - step;
                var (x, y) = CorrectionMesh.Place(grid, column, row);
                var touched = default(double?);
                foreach (var phase in TouchAt(x, y, z => touched = z))
                {
                    yield return phase;
                }

                if (touched is not { } height)
                {
                    yield break;
                }

                heights[(row * grid.Columns) + column] = height + state.Live.OffsetZ;
            }
        }

        heights.CopyTo(state.Live.Mesh.AsSpan());
        state.MeshOn = true;
        state.Sync();
        say(wording.MeshState(on: true));
    }

    /// <summary>Brings the pin out.</summary>
    public IEnumerable<Phase> Extend()
    {
        yield return Phase.Still(_probe.MoveSeconds);
        if (!body.Probe.Extend())
        {
            say(Wording.ProbeDidNotExtend);
        }
    }

    /// <summary>Brings the pin in.</summary>
    public IEnumerable<Phase> Retract()
    {
        yield return Phase.Still(_probe.MoveSeconds);
        body.Probe.Retract();
    }

    /// <summary>Brings the pin out and in a few times.</summary>
    public IEnumerable<Phase> Cycle()
    {
        for (var time = 0; time < 3; time++)
        {
            foreach (var phase in Extend().Concat(Retract()))
            {
                yield return phase;
            }
        }
    }

    /// <summary>Clears the pin's alarm; it ends retracted.</summary>
    public IEnumerable<Phase> ClearFault()
    {
        yield return Phase.Still(_probe.MoveSeconds);
        body.Probe.ClearFault();
    }

    private IEnumerable<Phase> HomeBySwitch()
    {
        body.Probe.BeginHoming();
        var error = body.Probe.NextErrorMm(0, 0);
        body.Probe.EndHoming();
        yield return To(body.Motor with { Z = 0 }, _probe.TouchFeed);
        state.HomedHeight(body.ToStep(error), 0);
        yield return To(body.Motor with { Z = body.Motor.Z + _probe.LiftMm }, _travel.MaxFeedZ);
    }

    private IEnumerable<Phase> HomeByProbe()
    {
        var (x, y) = state.NozzleForTip(_travel.HomingX, _travel.HomingY);
        yield return To(new Axes3(x, y, body.Motor.Z), _travel.ProbingFeedXY);
        foreach (var phase in Extend())
        {
            yield return phase;
        }

        if (body.Probe.LooksTriggered())
        {
            say(Wording.ProbeTriggeredBefore);
            halt();
            yield break;
        }

        body.Probe.BeginHoming();
        var (stop, found) = body.FindTrigger(body.Motor.Z - SearchMm, kinematics.FeedZ(_probe.TouchFeed), isHoming: true);
        yield return To(body.Motor with { Z = stop }, _probe.TouchFeed);
        if (found)
        {
            yield return To(body.Motor with { Z = stop + BackOffMm }, _travel.MaxFeedZ);
            (stop, found) = body.FindTrigger(body.Motor.Z - (2 * BackOffMm), kinematics.FeedZ(_probe.TouchFeed * SlowShare), isHoming: true);
            yield return To(body.Motor with { Z = stop }, _probe.TouchFeed * SlowShare);
        }

        body.Probe.EndHoming();
        body.Probe.FingerWaits = false;
        if (!found)
        {
            say(Wording.HomingFailed);
            halt();
            yield break;
        }

        state.HomedHeight(stop + state.Live.OffsetZ, body.TrueTriggerZ(x, y) + state.Live.OffsetZ);
        yield return To(body.Motor with { Z = stop + _probe.LiftMm }, _travel.MaxFeedZ);
        foreach (var phase in Retract())
        {
            yield return phase;
        }
    }

    private IEnumerable<Phase> TouchAt(double tipX, double tipY, Action<double> touched)
    {
        if (!body.Homed.X || !body.Homed.Y || !body.Homed.Z)
        {
            say(Wording.HomeFirst);
            yield break;
        }

        var (x, y) = state.NozzleForTip(tipX, tipY);
        if (x < _travel.MinX || x > _travel.MaxX || y < _travel.MinY || y > _travel.MaxY)
        {
            say(Wording.NotReachable);
            yield break;
        }

        var travelZ = state.Shift.Z - state.Live.OffsetZ + _probe.LiftMm;
        if (body.Motor.Z < travelZ)
        {
            yield return To(body.Motor with { Z = body.ToStep(travelZ) }, _travel.MaxFeedZ);
        }

        yield return To(new Axes3(x, y, body.Motor.Z), _travel.ProbingFeedXY);
        var wasExtended = body.Probe.IsExtended;
        foreach (var phase in wasExtended ? [] : Extend())
        {
            yield return phase;
        }

        if (body.Probe.IsExtended)
        {
            foreach (var phase in Descend(touched))
            {
                yield return phase;
            }
        }

        foreach (var phase in wasExtended ? [] : Retract())
        {
            yield return phase;
        }

        state.Sync();
    }

    private IEnumerable<Phase> Descend(Action<double> touched)
    {
        if (body.Probe.LooksTriggered())
        {
            say(Wording.ProbeTriggeredBefore);
            yield break;
        }

        var lowest = body.ToStep(state.Shift.Z - state.Live.OffsetZ - _probe.OvertravelMm);
        var (stop, found) = body.FindTrigger(Math.Min(lowest, body.Motor.Z), kinematics.FeedZ(_probe.TouchFeed), isHoming: false);
        yield return To(body.Motor with { Z = stop }, _probe.TouchFeed);
        yield return To(body.Motor with { Z = stop + _probe.LiftMm }, _travel.MaxFeedZ);
        if (found)
        {
            touched(stop - state.Shift.Z);
        }
        else
        {
            say(Wording.ProbeDidNotTrigger);
        }
    }

    private Phase To(Axes3 target, double feed) => new(target, kinematics.Seconds(target - body.Motor, feed), IsHoming: true);
}
