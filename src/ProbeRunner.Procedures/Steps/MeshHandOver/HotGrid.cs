using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Heat;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Reach;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Touches;
using ProbeRunner.Metrology.Planes;
using ProbeRunner.Metrology.Results;
using ProbeRunner.Metrology.Shapes;
using ProbeRunner.Procedures.Operators;
using ProbeRunner.Procedures.Requests;
using ProbeRunner.Procedures.Steps.Capture;

namespace ProbeRunner.Procedures.Steps.MeshHandOver;

/// <summary>
/// A few touches on the hot, soaked bed: how it differs from the map that was taken cold, as a surface of tilt, bow and twist. The nozzle
/// stays cold: its length does not enter the probe's readings, and it can't ooze.
/// </summary>
internal sealed class HotGrid(StepContext context, MeshParameters parameters)
{
    private const int Side = 3;
    private const int TouchesAPlace = 2;
    private const double AtTargetCelsius = 2;
    private const double InwardMm = 4;
    private static readonly TimeSpan Look = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan LongestHeating = TimeSpan.FromMinutes(40);

    /// <summary>Asks, heats, soaks, touches, and puts the heater back as it was found.</summary>
    /// <returns>The change from the map to the hot bed; null when the person would rather not.</returns>
    public async Task<Answer<ShapeTerms>?> TakeAsync(string why, CapturedSurface surface, ProbeOffset offset)
    {
        HeatProfile heat = context.Profile.Heat;
        TimeSpan soak = parameters.Soak(heat.Soak);
        Operators.Answer heated = await context.AskAsync(Prompts.Choose(
            PromptIds.MeshHeat,
            FormattableString.Invariant($"{why} Shall the bed heat to {heat.PrintingBedCelsius:0} degC, stand for {soak.TotalMinutes:0} minutes and be touched at nine places, while you stay with the machine? Otherwise no mesh is handed over."),
            "The bed burns, and stays hot long after it is switched off; keep what burns away from it and the mains switch in reach. The few touches tell how the hot bed differs from the map.",
            ("refuse", "no: hand no mesh over"),
            ("heat", "yes: heat it, I stay here")));
        if (heated.Value != "heat")
        {
            return null;
        }

        await context.HandsClearAsync(PromptIds.MeshHotHandsClear, "The bed heats and soaks, then Z is homed and nine places are touched. Nothing on the bed, paper out, hands clear?");
        List<Reading> readings = await context.InSectionAsync(
            "hot grid", Engine.Retake.WhenInterrupted, ((Side * Side) + 1) * TouchesAPlace, () => TouchAsync(Places(offset), soak));
        BedPoint home = context.Profile.Travel.HomingPlace;
        double atHome = readings.Where(reading => reading.Place == home).Average(reading => reading.Z);
        List<SurfacePoint> change =
        [
            .. readings.GroupBy(reading => reading.Place).Select(place => new SurfacePoint(
                place.Key.X, place.Key.Y, place.Average(reading => reading.Z) - atHome - surface.HeightAt(place.Key.X, place.Key.Y))),
        ];
        return ShapeTerms.Fit(change, CaptureJudgement.Plate(context.Profile));
    }

    private async Task<List<Reading>> TouchAsync(List<BedPoint> places, TimeSpan soak)
    {
        double bed = context.Profile.Heat.PrintingBedCelsius;
        Temperatures found = await context.DoAsync(new ReadTemperatures());
        await context.DoAsync(new SetHeaterTargets(null, bed));
        Temperatures now = await context.DoAsync(new ReadTemperatures());
        while (Math.Abs(now.BedCelsius - bed) > AtTargetCelsius)
        {
            if (now.At - found.At > LongestHeating)
            {
                throw new StepFailedException("The bed did not reach its temperature within forty minutes. Heaters go off now. Check thermistor, heater and draughts before trying again.");
            }

            await context.DoAsync(new StandStill(Look));
            now = await context.DoAsync(new ReadTemperatures());
        }

        context.Remark(FormattableString.Invariant($"The bed is at {bed:0} degC and soaks for {soak.TotalMinutes:0} minutes."));
        for (TimeSpan stood = TimeSpan.Zero; stood < soak; stood += Look)
        {
            await context.DoAsync(new StandStill(Look));
        }

        await context.DoAsync(new HomeAxes(Axes.Z));
        var readings = new List<Reading>();
        foreach (BedPoint place in places)
        {
            for (int touch = 1; touch <= TouchesAPlace; touch++)
            {
                readings.Add(await context.DoAsync(new TouchAt(place, touch)));
            }
        }

        await context.DoAsync(new SetHeaterTargets(null, found.BedTargetCelsius));
        return readings;
    }

    /// <summary>The homing place, then three by three over all that the probe reaches; a place on a clip moves inwards until it is off it.</summary>
    private List<BedPoint> Places(ProbeOffset offset)
    {
        ReachableArea reach = ReachableArea.ForProbe(context.Profile, offset);
        BedRectangle area = reach.Bounds;
        BedPoint home = context.Profile.Travel.HomingPlace;
        var places = new List<BedPoint> { home };
        for (int index = 0; index < Side * Side; index++)
        {
            var place = new BedPoint(
                Math.Round(area.MinX + ((area.MaxX - area.MinX) * (index % Side) / (Side - 1)), 3),
                Math.Round(area.MinY + ((area.MaxY - area.MinY) * (index / Side) / (Side - 1)), 3));
            while (!reach.CanTouch(place) && place.DistanceTo(home) > InwardMm)
            {
                double share = InwardMm / place.DistanceTo(home);
                place = new BedPoint(Math.Round(place.X + ((home.X - place.X) * share), 3), Math.Round(place.Y + ((home.Y - place.Y) * share), 3));
            }

            places.Add(place);
        }

        return [.. places.Distinct()];
    }
}
