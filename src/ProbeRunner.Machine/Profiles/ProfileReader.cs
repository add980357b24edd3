using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Settings;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Profiles;

/// <summary>Reads a machine profile from TOML; lengths in mm, feeds in mm/min, temperatures in degC.</summary>
public static class ProfileReader
{
    private const double LongestMm = 2000;

    private static readonly Dictionary<string, bool> ZDatums = new(StringComparer.Ordinal) { ["probe"] = true, ["switch"] = false };

    private static readonly Dictionary<string, bool> Turns = new(StringComparer.Ordinal) { ["raises"] = true, ["lowers"] = false };

    private static readonly Dictionary<string, ProbeKind> ProbeKinds = new(StringComparer.Ordinal)
    {
        ["retractable-pin"] = ProbeKind.RetractablePin,
        ["docked"] = ProbeKind.Docked,
        ["metal-sensing"] = ProbeKind.MetalSensing,
        ["nozzle-contact"] = ProbeKind.NozzleContact,
    };

    /// <summary>Reads and checks a profile.</summary>
    /// <exception cref="FileFaultException">Something is wrong; every fault is named with its place.</exception>
    public static MachineProfile Read(TomlFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        TomlSection root = file.Root;
        var profile = new MachineProfile(
            root.Text("name"),
            root.Text("title"),
            root.Text("dialect"),
            root.Whole("baud", 2400, 4_000_000, 115_200),
            Bed(root.Section("bed")),
            Travel(root.Section("travel")),
            Probe(root.Section("probe")),
            Mesh(root.Section("mesh")),
            [.. root.Sections("screw").Select(Screw)],
            Heat(root.Section("heat")),
            FirstLayer(root.Section("first_layer")));
        if (root.IsSound)
        {
            ProfileChecks.Check(profile, root);
        }

        file.Finish();
        return profile;
    }

    private static BedProfile Bed(TomlSection bed)
    {
        ImmutableArray<double> origin = bed.Numbers("controller_origin_mm", "x, y", 2, -LongestMm, LongestMm, [0, 0]);
        return new BedProfile(
            bed.Number("width_mm", 50, LongestMm),
            bed.Number("depth_mm", 50, LongestMm),
            origin[0],
            origin[1],
            Rectangle(bed, "printable_mm"),
            [.. bed.NumberLists("clips_mm", "min x, min y, max x, max y", 4, -LongestMm, LongestMm).Select(Rectangle)],
            bed.Flag("moves_along_y", false))
        {
            ClipHeightMm = bed.Number("clip_height_mm", 0, 50, 10),
        };
    }

    private static TravelProfile Travel(TomlSection travel) => new(
        Rectangle(travel, "nozzle_mm"),
        travel.Number("lowest_z_mm", -10, 0),
        travel.Number("highest_z_mm", 20, LongestMm),
        travel.Number("clearance_mm", 2, 50, 5),
        travel.Number("first_lift_mm", 0, 10, 5),
        travel.Number("travel_feed_mm_per_min", 60, 30_000, 6000),
        travel.Number("lift_feed_mm_per_min", 30, 6000, 600),
        travel.Number("slow_feed_mm_per_min", 6, 600, 60),
        travel.Number("z_step_mm", 0.0001, 0.1),
        Point(travel, "homing_place_mm"),
        travel.OneOf("z_datum", ZDatums))
    {
        ZDrives = travel.Whole("z_drives", 1, 2, 1),
    };

    private static ProbeProfile Probe(TomlSection probe)
    {
        ImmutableArray<double> offset = probe.Numbers("offset_mm", "x, y, z (probe minus nozzle)", 3, -200, 200);
        return new ProbeProfile(
            probe.OneOf("kind", ProbeKinds),
            new ProbeOffset(offset[0], offset[1], offset[2]),
            probe.Number("trigger_to_nozzle_mm", 0, 20),
            probe.Number("extended_below_nozzle_mm", 0, 50),
            probe.Number("retracted_above_nozzle_mm", 0, 50),
            probe.Number("edge_margin_mm", 0, 100, 5),
            probe.Number("touch_feed_mm_per_min", 30, 600, 300),
            probe.Number("good_sigma_mm", 0.0005, 0.1, 0.005),
            probe.Number("bad_sigma_mm", 0.001, 0.2, 0.010));
    }

    private static MeshProfile Mesh(TomlSection mesh) =>
        new(mesh.Whole("columns", 2, 30), mesh.Whole("rows", 2, 30), Rectangle(mesh, "area_mm"));

    private static ScrewProfile Screw(TomlSection screw) => new(
        screw.Text("name"),
        Point(screw, "place_mm"),
        screw.Number("pitch_mm", 0.2, 3),
        screw.OneOf("clockwise_from_above", Turns));

    private static HeatProfile Heat(TomlSection heat) => new(
        heat.Number("nozzle_cap_celsius", 40, 350),
        heat.Number("bed_cap_celsius", 30, 150),
        heat.Number("probing_nozzle_celsius", 0, 350),
        heat.Number("printing_bed_celsius", 0, 150),
        TimeSpan.FromMinutes(heat.Number("soak_minutes", 0, 240)));

    private static FirstLayerProfile FirstLayer(TomlSection layer) => new(
        layer.Number("height_mm", 0.05, 1),
        layer.Number("lowest_gap_mm", 0.01, 1),
        layer.Number("highest_gap_mm", 0.02, 2));

    private static BedPoint Point(TomlSection section, string key)
    {
        ImmutableArray<double> numbers = section.Numbers(key, "x, y", 2, -LongestMm, LongestMm);
        return new BedPoint(numbers[0], numbers[1]);
    }

    private static BedRectangle Rectangle(TomlSection section, string key) =>
        Rectangle(section.Numbers(key, "min x, min y, max x, max y", 4, -LongestMm, LongestMm));

    private static BedRectangle Rectangle(ImmutableArray<double> numbers) => new(numbers[0], numbers[1], numbers[2], numbers[3]);
}
