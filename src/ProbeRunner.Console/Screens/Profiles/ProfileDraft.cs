using System.Globalization;
using ProbeRunner.Machine.Profiles;
using ProbeRunner.Machine.Toml;

namespace ProbeRunner.Console.Screens.Profiles;

/// <summary>A machine as it is being described: few fields by a person, the rest usual values that can be edited in the file later.</summary>
/// <param name="Name">Short name, also the file's.</param>
/// <param name="Title">What a person calls it.</param>
/// <param name="Width">Of the bed plate along X, mm, as typed.</param>
/// <param name="Depth">Of the bed plate along Y, mm, as typed.</param>
/// <param name="BedMoves">Whether the bed moves along Y.</param>
/// <param name="Kind">The probe's kind, as the file writes it.</param>
/// <param name="OffsetX">Probe minus nozzle along X, mm, as typed.</param>
/// <param name="OffsetY">Probe minus nozzle along Y, mm, as typed.</param>
/// <param name="TriggerToNozzle">How far below the trigger point the nozzle touches, mm, as typed.</param>
/// <param name="Baud">Serial speed, as typed.</param>
internal sealed record ProfileDraft(
    string Name, string Title, string Width, string Depth, bool BedMoves, string Kind, string OffsetX, string OffsetY, string TriggerToNozzle, string Baud)
{
    private const string NozzleContact = "nozzle-contact";

    /// <summary>The kinds of probe, as the file writes them.</summary>
    public static IReadOnlyList<string> Kinds { get; } = ["retractable-pin", "docked", "metal-sensing", NozzleContact];

    /// <summary>A usual machine to begin with.</summary>
    public static ProfileDraft Usual { get; } = new("my-machine", "My machine", "220", "220", true, "retractable-pin", "-40", "-10", "2.0", "115200");

    /// <summary>The file's text.</summary>
    public string ToToml()
    {
        var (width, depth) = (Number(Width), Number(Depth));
        var isNozzle = Kind == NozzleContact;
        var (offsetX, offsetY) = isNozzle ? ("0", "0") : (Plain(OffsetX), Plain(OffsetY));
        var reach = (X: Number(offsetX), Y: Number(offsetY));
        var mesh = string.Create(CultureInfo.InvariantCulture,
            $"[{Math.Max(15, 15 + reach.X):0.###}, {Math.Max(15, 15 + reach.Y):0.###}, {Math.Min(width - 15, width - 15 + reach.X):0.###}, {Math.Min(depth - 15, depth - 15 + reach.Y):0.###}]");
        return string.Create(CultureInfo.InvariantCulture, $"""
            # Described on the bench screens. Lengths in mm, feeds in mm/min, temperatures in degC, places in bed coordinates:
            # origin at the plate's front-left corner, X to the right, Y to the back. Compare every value with the machine.
            name = "{Plain(Name)}"
            title = "{Plain(Title)}"
            dialect = "line-ack"
            baud = {Plain(Baud)}

            [bed]
            width_mm = {Plain(Width)}
            depth_mm = {Plain(Depth)}
            controller_origin_mm = [0, 0]
            printable_mm = [5, 5, {width - 5:0.###}, {depth - 5:0.###}]
            clips_mm = []                             # min x, min y, max x, max y of whatever nothing may touch
            moves_along_y = {(BedMoves ? "true" : "false")}

            [travel]
            nozzle_mm = [0, 0, {Plain(Width)}, {Plain(Depth)}]
            lowest_z_mm = -4
            highest_z_mm = 200
            clearance_mm = 5
            first_lift_mm = 5
            travel_feed_mm_per_min = 6000
            lift_feed_mm_per_min = 600
            slow_feed_mm_per_min = 60
            z_step_mm = 0.0025
            homing_place_mm = [{width / 2:0.###}, {depth / 2:0.###}]
            z_datum = "probe"

            [probe]
            kind = "{Kind}"
            offset_mm = [{offsetX}, {offsetY}, 0]
            trigger_to_nozzle_mm = {Plain(TriggerToNozzle)}
            extended_below_nozzle_mm = {(isNozzle ? 0 : Number(TriggerToNozzle) + 0.6):0.###}
            retracted_above_nozzle_mm = 4
            edge_margin_mm = 5
            touch_feed_mm_per_min = 300
            good_sigma_mm = 0.005
            bad_sigma_mm = 0.010

            [mesh]
            columns = 5
            rows = 5
            area_mm = {mesh}

            [heat]
            nozzle_cap_celsius = 250
            bed_cap_celsius = 90
            probing_nozzle_celsius = 140
            printing_bed_celsius = 60
            soak_minutes = 15

            [first_layer]
            height_mm = 0.20
            lowest_gap_mm = 0.12
            highest_gap_mm = 0.28

            """);
    }

    /// <summary>The profile, or what is wrong with it.</summary>
    public (MachineProfile? Profile, string? Fault) Check()
    {
        if (Numbers().FirstOrDefault(field => !IsNumber(field.Typed)) is { Name: { } name } wrong)
        {
            return (null, $"{name}: {(wrong.Typed.Trim().Length == 0 ? "nothing" : $"\"{wrong.Typed}\"")} is no number. Write one like -40.5, with a dot.");
        }

        try
        {
            return (ProfileReader.Read(TomlFile.Parse(ToToml(), $"{Name}.toml")), null);
        }
        catch (FileFaultException fault)
        {
            return (null, fault.Message);
        }
    }

    private (string Name, string Typed)[] Numbers()
    {
        (string Name, string Typed)[] always = [("Bed width", Width), ("Bed depth", Depth), ("Trigger above", TriggerToNozzle), ("Serial speed", Baud)];
        return Kind == NozzleContact ? always : [.. always, ("Probe x", OffsetX), ("Probe y", OffsetY)];
    }

    private static bool IsNumber(string typed) => double.TryParse(typed, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number);

    private static double Number(string typed) => double.TryParse(typed, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? number : 0;

    private static string Plain(string typed) => typed.Trim().Replace("\\", string.Empty, StringComparison.Ordinal).Replace("\"", string.Empty, StringComparison.Ordinal);
}
