namespace ProbeRunner.SimulatedPrinter.Scenarios;

/// <summary>The keys of the <c>[controller]</c> table: how the controller speaks, what it can do, what it has stored.</summary>
internal static class ControllerKeys
{
    public static ControllerScenario Read(ScenarioReader keys)
    {
        var otherwise = new ControllerScenario();
        var stored = keys.Numbers(
            "controller.stored_offset_mm", "x, y, z", [otherwise.StoredOffsetX, otherwise.StoredOffsetY, otherwise.StoredOffsetZ]);
        return new ControllerScenario
        {
            Checksums = keys.Flag("controller.checksums", otherwise.Checksums),
            Unnumbered = keys.Flag("controller.unnumbered_lines", otherwise.Unnumbered),
            SpoiltNumberIsUnknownCommand = keys.Flag("controller.spoilt_number_is_unknown_command", otherwise.SpoiltNumberIsUnknownCommand),
            Ok = keys.OneOf("controller.ok", otherwise.Ok, ("ok", OkStyle.Plain), ("ok P B", OkStyle.Buffers), ("ok N P B", OkStyle.Numbered)),
            Resend = keys.OneOf(
                "controller.resend", otherwise.Resend,
                ("Resend: n", ResendStyle.Word), ("rs n", ResendStyle.Abbreviated), ("rs Nn", ResendStyle.AbbreviatedWithLetter)),
            TouchReport = keys.OneOf(
                "controller.touch_report_style", otherwise.TouchReport,
                ("labelled", TouchReportStyle.Labelled), ("positional", TouchReportStyle.Positional)),
            TouchIncludesOffset = keys.OneOf(
                "controller.touch_report", otherwise.TouchIncludesOffset, ("offset-included", true), ("nozzle-height", false)),
            TouchNamesNozzlePlace = keys.OneOf("controller.touch_place", otherwise.TouchNamesNozzlePlace, ("probe", false), ("nozzle", true)),
            Decimals = keys.Whole("controller.decimals", 2, 4, otherwise.Decimals),
            TouchDecimals = keys.Whole("controller.touch_decimals", 2, 4, otherwise.TouchDecimals),
            CarriageReturns = keys.Flag("controller.carriage_returns", otherwise.CarriageReturns),
            EchoPrefix = keys.Flag("controller.echo_prefix", otherwise.EchoPrefix),
            BusySeconds = keys.Number("controller.busy_seconds", 0, 60, otherwise.BusySeconds),
            ResetsOnOpen = keys.Flag("controller.resets_on_open", otherwise.ResetsOnOpen),
            BootSeconds = keys.Number("controller.boot_seconds", 0, 30, otherwise.BootSeconds),
            StoresSettings = keys.Flag("controller.stores_settings", otherwise.StoresSettings),
            ReportsSettings = keys.Flag("controller.reports_settings", otherwise.ReportsSettings),
            HasMesh = keys.Flag("controller.has_mesh", otherwise.HasMesh),
            WritesMesh = keys.Flag("controller.writes_mesh", otherwise.WritesMesh),
            KeepsMeshOnHoming = keys.Flag("controller.keeps_mesh_on_homing", otherwise.KeepsMeshOnHoming),
            OffsetReportIsCommand = keys.Flag("controller.offset_report_is_command", otherwise.OffsetReportIsCommand),
            TemperaturesOnOk = keys.Flag("controller.temperatures_on_ok", otherwise.TemperaturesOnOk),
            ProbeCommands = keys.OneOf(
                "controller.probe_commands", otherwise.ProbeCommands,
                ("simple", ProbeCommandStyle.Simple), ("servo", ProbeCommandStyle.Servo), ("both", ProbeCommandStyle.Both)),
            HaltSeenWhenBusy = keys.Flag("controller.halt_seen_when_busy", otherwise.HaltSeenWhenBusy),
            SaysWait = keys.Flag("controller.says_wait", otherwise.SaysWait),
            RemarkSeconds = keys.Number("controller.remark_seconds", 0, 3600, otherwise.RemarkSeconds),
            IdleReleaseSeconds = keys.Number("controller.idle_release_seconds", 0, 36_000, otherwise.IdleReleaseSeconds),
            SilenceHeatersOffSeconds = keys.Number("controller.silence_heaters_off_seconds", 0, 3600, otherwise.SilenceHeatersOffSeconds),
            QueuedMoves = keys.Whole("controller.queued_moves", 1, 256, otherwise.QueuedMoves),
            QueuedLines = keys.Whole("controller.queued_lines", 1, 256, otherwise.QueuedLines),
            DwellCountsMilliseconds = keys.Flag("controller.dwell_counts_milliseconds", otherwise.DwellCountsMilliseconds),
            StoredOffsetX = stored[0],
            StoredOffsetY = stored[1],
            StoredOffsetZ = stored[2],
        };
    }
}
