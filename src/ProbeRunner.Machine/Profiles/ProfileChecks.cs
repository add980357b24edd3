using System.Collections.Immutable;
using ProbeRunner.Machine.Geometry;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Machine.Profiles;

/// <summary>What must hold between the values of a profile, each of which is in its range.</summary>
internal static class ProfileChecks
{
    public static void Check(MachineProfile profile, TomlSection root)
    {
        CheckBed(profile.Bed, root.Section("bed"));
        CheckTravel(profile, root.Section("travel"));
        CheckProbe(profile.Probe, root.Section("probe"));
        CheckMesh(profile, root.Section("mesh"));
        CheckScrews(profile, root);
        CheckHeat(profile.Heat, root.Section("heat"));
        CheckFirstLayer(profile.FirstLayer, root.Section("first_layer"));
        if (profile.Name.Length == 0 || profile.Name.Any(letter => !char.IsAsciiLetterOrDigit(letter) && letter is not ('-' or '_' or '.')))
        {
            root.Refuse("name", "the name is not usable as a file name", "letters, digits, '-', '_' and '.' are accepted");
        }
    }

    private static void CheckBed(BedProfile bed, TomlSection section)
    {
        var plate = new BedRectangle(0, 0, bed.WidthMm, bed.DepthMm);
        RequireInside(bed.Printable, plate, section, "printable_mm", "the printable rectangle", "the plate");
        ImmutableArray<FilePosition> places = section.WhereOfItems("clips_mm");
        for (int clip = 0; clip < bed.Clips.Length; clip++)
        {
            if (bed.Clips[clip].IsEmpty || bed.Clips[clip].Intersect(plate).IsEmpty)
            {
                section.RefuseAt(places[clip], "this clip is empty or lies beside the plate", "[min x, min y, max x, max y] over the plate");
            }
        }
    }

    private static void CheckTravel(MachineProfile profile, TomlSection section)
    {
        TravelProfile travel = profile.Travel;
        if (travel.Nozzle.IsEmpty)
        {
            section.Refuse("nozzle_mm", "the rectangle is empty", "[min x, min y, max x, max y] with min below max");
        }

        var plate = new BedRectangle(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm);
        BedPoint home = travel.HomingPlace;
        if (!plate.Inset(profile.Probe.EdgeMarginMm).Contains(home) || profile.Bed.Clips.Any(clip => clip.Contains(home)))
        {
            section.Refuse("homing_place_mm", "the homing place lies on a clip or too near the plate's edge", "a place near the middle of the bed");
        }
        else if (!travel.Nozzle.Contains(new BedPoint(home.X - profile.Probe.Offset.X, home.Y - profile.Probe.Offset.Y)))
        {
            section.Refuse("homing_place_mm", "the probe cannot reach the homing place within the nozzle's travel", "a place near the middle of the bed");
        }
    }

    private static void CheckProbe(ProbeProfile probe, TomlSection section)
    {
        if (probe.GoodSigmaMm >= probe.BadSigmaMm)
        {
            section.Refuse("good_sigma_mm", "a fit probe's scatter is not below an unfit one's", "good_sigma_mm below bad_sigma_mm");
        }

        if (probe.Kind == ProbeKind.NozzleContact)
        {
            if (probe.Offset.X != 0 || probe.Offset.Y != 0)
            {
                section.Refuse("offset_mm", "the nozzle itself is the probe, yet it has an offset", "x = 0 and y = 0");
            }

            if (probe.ExtendedBelowNozzleMm != 0)
            {
                section.Refuse("extended_below_nozzle_mm", "the nozzle itself is the probe", "0");
            }
        }
        else if (probe.Offset.X == 0 && probe.Offset.Y == 0)
        {
            section.Refuse("offset_mm", "the probe would sit in the nozzle's place", "x or y other than 0: measure it with a ruler");
        }

        bool touches = probe.Kind is ProbeKind.RetractablePin or ProbeKind.Docked;
        if (touches && probe.TriggerToNozzleMm > probe.ExtendedBelowNozzleMm)
        {
            section.Refuse(
                "trigger_to_nozzle_mm",
                "the probe would trigger before its tip is at the bed",
                "at most extended_below_nozzle_mm: the tip is pushed in until it triggers");
        }

        if (touches && probe.ExtendedBelowNozzleMm == 0)
        {
            section.Refuse("extended_below_nozzle_mm", "the extended tip is not below the nozzle", "more than 0");
        }
    }

    private static void CheckMesh(MachineProfile profile, TomlSection section) => RequireInside(
        profile.Mesh.Area,
        new BedRectangle(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm),
        section,
        "area_mm",
        "the mesh's rectangle",
        "the plate");

    private static void CheckScrews(MachineProfile profile, TomlSection root)
    {
        ImmutableArray<TomlSection> sections = root.Sections("screw");
        var names = new HashSet<string>(StringComparer.Ordinal);
        for (int screw = 0; screw < sections.Length; screw++)
        {
            BedPoint place = profile.Screws[screw].Place;
            if (!new BedRectangle(0, 0, profile.Bed.WidthMm, profile.Bed.DepthMm).Contains(place))
            {
                sections[screw].Refuse("place_mm", "the screw lies beside the plate", "a place on the plate");
            }

            if (!names.Add(profile.Screws[screw].Name))
            {
                sections[screw].Refuse("name", "two screws have the same name", "a name of its own for each");
            }
        }
    }

    private static void CheckHeat(HeatProfile heat, TomlSection section)
    {
        if (heat.ProbingNozzleCelsius > heat.NozzleCapCelsius)
        {
            section.Refuse("probing_nozzle_celsius", "it is above the nozzle's cap", "at most nozzle_cap_celsius");
        }

        if (heat.PrintingBedCelsius > heat.BedCapCelsius)
        {
            section.Refuse("printing_bed_celsius", "it is above the bed's cap", "at most bed_cap_celsius");
        }
    }

    private static void CheckFirstLayer(FirstLayerProfile layer, TomlSection section)
    {
        if (!(layer.LowestGapMm < layer.HeightMm && layer.HeightMm < layer.HighestGapMm))
        {
            section.Refuse("height_mm", "the set height is not between the lowest and the highest gap", "lowest_gap_mm < height_mm < highest_gap_mm");
        }
    }

    private static void RequireInside(BedRectangle inner, BedRectangle outer, TomlSection section, string key, string what, string whose)
    {
        if (inner.IsEmpty)
        {
            section.Refuse(key, $"{what} is empty", "[min x, min y, max x, max y] with min below max");
        }
        else if (inner.Intersect(outer) != inner)
        {
            section.Refuse(key, $"{what} reaches beyond {whose}", FormattableString.Invariant($"inside [0, 0, {outer.MaxX}, {outer.MaxY}]"));
        }
    }
}
