using System.Collections.Immutable;
using ProbeRunner.SimulatedPrinter.Physics;

namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>The keys of a scenario file, with their ranges. Geometry is named as in the machine profiles.</summary>
internal static class ScenarioKeys
{
    public static Scenario Read(ScenarioReader keys, string name)
    {
        var bed = Bed(keys);
        var scenario = new Scenario
        {
            Name = keys.Text("name", name),
            Title = keys.Text("title", ""),
            MachineName = keys.Text("machine", "wren-240"),
            Seed = (ulong)keys.Whole("seed", 0, int.MaxValue, 1),
            Bed = bed,
            Travel = Travel(keys, bed),
            Probe = Probe(keys),
            Mesh = Mesh(keys),
            Heat = Heat(keys),
            Person = Person(keys),
            Controller = ControllerKeys.Read(keys),
            Screws = Screws(keys),
        };
        keys.Finish();
        return scenario;
    }

    private static BedScenario Bed(ScenarioReader keys)
    {
        var otherwise = new BedScenario();
        var origin = keys.Numbers("bed.controller_origin_mm", "x, y", [0, 0]);
        return new BedScenario
        {
            WidthMm = keys.Number("bed.width_mm", 50, 2000, otherwise.WidthMm),
            DepthMm = keys.Number("bed.depth_mm", 50, 2000, otherwise.DepthMm),
            ControllerOriginX = origin[0],
            ControllerOriginY = origin[1],
            MovesAlongY = keys.Flag("bed.moves_along_y", true),
            Clips = [.. keys.NumberLists("bed.clips_mm", "min x, min y, max x, max y", 4).Select(clip => new ClipArea(clip[0], clip[1], clip[2], clip[3]))],
            ClipHeightMm = keys.Number("bed.clip_height_mm", 0, 50, otherwise.ClipHeightMm),
            DriftMmPerHour = keys.Number("bed.drift_mm_per_hour", -1, 1, 0),
            TiltXMm = keys.Number("bed.tilt_x_mm", -5, 5, 0),
            TiltYMm = keys.Number("bed.tilt_y_mm", -5, 5, 0),
            BowXMm = keys.Number("bed.bow_x_mm", -5, 5, 0),
            BowYMm = keys.Number("bed.bow_y_mm", -5, 5, 0),
            TwistMm = keys.Number("bed.twist_mm", -5, 5, 0),
            RippleMm = keys.Number("bed.ripple_mm", 0, 1, 0),
            RipplePeriodMm = keys.Number("bed.ripple_period_mm", 1, 1000, otherwise.RipplePeriodMm),
            RippleDirectionDegrees = keys.Number("bed.ripple_direction_degrees", -360, 360, 0),
            Bumps = [.. keys.NumberLists("bed.bumps", "x, y, height, width", 4).Select(bump => new Bump(bump[0], bump[1], bump[2], Math.Max(1, bump[3])))],
        };
    }

    private static TravelScenario Travel(ScenarioReader keys, BedScenario bed)
    {
        var otherwise = new TravelScenario();
        var nozzle = keys.Numbers("travel.nozzle_mm", "min x, min y, max x, max y", [0, 0, bed.WidthMm, bed.DepthMm]);
        var homing = keys.Numbers("travel.homing_place_mm", "x, y", [bed.WidthMm / 2, bed.DepthMm / 2]);
        return new TravelScenario
        {
            MinX = nozzle[0],
            MinY = nozzle[1],
            MaxX = nozzle[2],
            MaxY = nozzle[3],
            HomingX = homing[0],
            HomingY = homing[1],
            LowestZ = keys.Number("travel.lowest_z_mm", -20, 0, otherwise.LowestZ),
            HighestZ = keys.Number("travel.highest_z_mm", 20, 2000, otherwise.HighestZ),
            HomesWithProbe = keys.OneOf("travel.z_datum", true, ("probe", true), ("switch", false)),
            MaxFeedXY = keys.Number("travel.max_feed_xy_mm_per_s", 1, 2000, otherwise.MaxFeedXY),
            MaxFeedZ = keys.Number("travel.max_feed_z_mm_per_s", 0.5, 200, otherwise.MaxFeedZ),
            ProbingFeedXY = keys.Number("travel.probing_feed_xy_mm_per_s", 1, 2000, otherwise.ProbingFeedXY),
            HomingFeedXY = keys.Number("travel.homing_feed_xy_mm_per_s", 1, 500, otherwise.HomingFeedXY),
            AccelerationXY = keys.Number("travel.acceleration_xy_mm_per_s2", 10, 50_000, otherwise.AccelerationXY),
            AccelerationZ = keys.Number("travel.acceleration_z_mm_per_s2", 1, 5_000, otherwise.AccelerationZ),
            StepsPerMmXY = keys.Number("travel.steps_per_mm_xy", 1, 5_000, otherwise.StepsPerMmXY),
            StepsPerMmZ = 1 / keys.Number("travel.z_step_mm", 0.0001, 0.1, 1 / otherwise.StepsPerMmZ),
            BacklashZMm = keys.Number("travel.backlash_z_mm", 0, 1, otherwise.BacklashZMm),
            SagMm = keys.Number("travel.sag_mm", 0, 5, otherwise.SagMm),
            GantryDifferenceMm = keys.Number("travel.gantry_difference_mm", -5, 5, 0),
            GantryReleaseSdMm = keys.Number("travel.gantry_release_sd_mm", 0, 2, 0),
        };
    }

    private static ProbeScenario Probe(ScenarioReader keys)
    {
        var otherwise = new ProbeScenario();
        var offset = keys.Numbers("probe.offset_mm", "x, y", [otherwise.OffsetX, otherwise.OffsetY]);
        return new ProbeScenario
        {
            OffsetX = offset[0],
            OffsetY = offset[1],
            TriggerDistanceMm = keys.Number("probe.trigger_distance_mm", -1, 20, otherwise.TriggerDistanceMm),
            LeanX = keys.Number("probe.lean_x_mm_per_mm", -0.01, 0.01, 0),
            LeanY = keys.Number("probe.lean_y_mm_per_mm", -0.01, 0.01, 0),
            TouchSdMm = keys.Number("probe.touch_sd_mm", 0, 1, otherwise.TouchSdMm),
            ExtensionSdMm = keys.Number("probe.extension_sd_mm", 0, 1, otherwise.ExtensionSdMm),
            HomingSdMm = keys.Number("probe.homing_sd_mm", 0, 1, otherwise.HomingSdMm),
            OutlierShare = keys.Number("probe.outlier_share", 0, 1, 0),
            OutlierSdMm = keys.Number("probe.outlier_sd_mm", 0, 1, otherwise.OutlierSdMm),
            ClickMm = keys.Number("probe.click_mm", 0, 1, 0),
            ClickChance = keys.Number("probe.click_chance", 0, 1, otherwise.ClickChance),
            Retracts = keys.Flag("probe.retracts", true),
            PullsItselfIn = keys.Flag("probe.pulls_itself_in", false),
            Defect = keys.OneOf("probe.defect", ProbeDefect.None, [("none", ProbeDefect.None), .. DefectWords.All]),
            PinBelowTriggerMm = keys.Number("probe.pin_below_trigger_mm", 0, 10, otherwise.PinBelowTriggerMm),
            MoveSeconds = keys.Number("probe.move_seconds", 0.01, 10, otherwise.MoveSeconds),
            TouchFeed = keys.Number("probe.touch_feed_mm_per_s", 0.1, 50, otherwise.TouchFeed),
            HasteSdMm = keys.Number("probe.haste_sd_mm", 0, 0.1, 0),
            DelaySeconds = keys.Number("probe.delay_seconds", 0, 0.1, 0),
            SwingSdMm = keys.Number("probe.swing_sd_mm", 0, 1, 0),
            SwingSeconds = keys.Number("probe.swing_seconds", 0.01, 60, otherwise.SwingSeconds),
            LiftMm = keys.Number("probe.lift_mm", 0.5, 50, otherwise.LiftMm),
            OvertravelMm = keys.Number("probe.overtravel_mm", 0.1, 20, otherwise.OvertravelMm),
        };
    }

    private static MeshScenario Mesh(ScenarioReader keys)
    {
        var otherwise = new MeshScenario();
        var area = keys.Numbers("mesh.area_mm", "min x, min y, max x, max y", [otherwise.MinX, otherwise.MinY, otherwise.MaxX, otherwise.MaxY]);
        return new MeshScenario
        {
            Columns = keys.Whole("mesh.columns", 2, 50, otherwise.Columns),
            Rows = keys.Whole("mesh.rows", 2, 50, otherwise.Rows),
            MinX = area[0],
            MinY = area[1],
            MaxX = area[2],
            MaxY = area[3],
        };
    }

    private static HeatScenario Heat(ScenarioReader keys)
    {
        var otherwise = new HeatScenario();
        return new HeatScenario
        {
            AmbientCelsius = keys.Number("heat.ambient_celsius", -20, 50, otherwise.AmbientCelsius),
            NozzleKelvinPerSecond = keys.Number("heat.nozzle_kelvin_per_second", 0.1, 100, otherwise.NozzleKelvinPerSecond),
            BedKelvinPerSecond = keys.Number("heat.bed_kelvin_per_second", 0.01, 100, otherwise.BedKelvinPerSecond),
            NozzleMmPerKelvin = keys.Number("heat.nozzle_mm_per_kelvin", -0.01, 0.01, otherwise.NozzleMmPerKelvin),
            BedMmPerKelvin = keys.Number("heat.bed_mm_per_kelvin", -0.05, 0.05, otherwise.BedMmPerKelvin),
            BedLagSeconds = keys.Number("heat.bed_lag_seconds", 1, 36_000, otherwise.BedLagSeconds),
            BedDomeMmPerKelvin = keys.Number("heat.bed_dome_mm_per_kelvin", -0.05, 0.05, 0),
            NozzleLimitCelsius = keys.Number("heat.nozzle_limit_celsius", 0, 500, otherwise.NozzleLimitCelsius),
            BedLimitCelsius = keys.Number("heat.bed_limit_celsius", 0, 200, otherwise.BedLimitCelsius),
        };
    }

    private static PersonScenario Person(ScenarioReader keys)
    {
        var otherwise = new PersonScenario();
        return new PersonScenario
        {
            PaperMm = keys.Number("person.paper_mm", 0, 2, otherwise.PaperMm),
            PaperSoftnessMm = keys.Number("person.paper_softness_mm", 0, 1, otherwise.PaperSoftnessMm),
            FeelSdMm = keys.Number("person.feel_sd_mm", 0, 1, otherwise.FeelSdMm),
            LapseChance = keys.Number("person.lapse_chance", 0, 1, otherwise.LapseChance),
            ScrewSdTurns = keys.Number("person.screw_sd_turns", 0, 1, otherwise.ScrewSdTurns),
            ResidueMm = keys.Number("person.residue_mm", 0, 1, otherwise.ResidueMm),
            GapsAboveMm = keys.Number("person.gaps_above_mm", 0, 2, otherwise.GapsAboveMm),
            RidgesBelowMm = keys.Number("person.ridges_below_mm", 0, 2, otherwise.RidgesBelowMm),
        };
    }

    private static ImmutableArray<ScrewScenario> Screws(ScenarioReader keys) =>
    [
        .. Enumerable.Range(0, keys.Tables("screw")).Select(index =>
        {
            var table = FormattableString.Invariant($"screw.{index}");
            var place = keys.Numbers($"{table}.place_mm", "x, y", [0, 0]);
            return new ScrewScenario(
                keys.Text($"{table}.name", table),
                place[0],
                place[1],
                keys.Number($"{table}.pitch_mm", 0.1, 5, 0.7),
                keys.OneOf($"{table}.clockwise_from_above", false, ("raises", true), ("lowers", false)));
        }),
    ];
}
