using System.Globalization;
using ProbeRunner.Machine.Dialects;
using ProbeRunner.Machine.Settings;

namespace ProbeRunner.Machine.Printers;

/// <summary>The controller's own limit on how fast Z goes: the one means by which any controller touches more slowly.</summary>
public sealed partial class Printer
{
    private const string HighestZSpeedName = "highest speed Z";

    /// <summary>A limit is sent in hundredths of a millimetre a second.</summary>
    private const double FeedRoundingMmPerMin = 0.31;

    private const double SecondsPerMinute = 60;

    /// <inheritdoc />
    public async Task<double?> ReadHighestZFeedAsync(CancellationToken cancel)
    {
        SettingsReport settings = await ReadSettingsAsync(cancel);
        return settings.Values.TryGetValue(HighestZSpeedName, out string? text) && ReplyPattern.Number(text.Split(' ')[0]) is double speed and > 0
            ? speed * SecondsPerMinute
            : null;
    }

    /// <inheritdoc />
    public async Task<double> LimitZFeedAsync(double feedMmPerMin, CancellationToken cancel)
    {
        if (!(feedMmPerMin is >= 10 and <= 6000))
        {
            throw new ArgumentOutOfRangeException(nameof(feedMmPerMin), feedMmPerMin, "Z is limited to a feed from 10 to 6000 mm/min.");
        }

        if (!_session.Has(Verb.LimitZSpeed))
        {
            throw new NotAbleException("be told how fast Z may go");
        }

        await _session.SendAsync(Verb.LimitZSpeed, cancel, ("speed", feedMmPerMin / SecondsPerMinute));
        double? found = await ReadHighestZFeedAsync(cancel);
        return found is double feed && Math.Abs(feed - feedMmPerMin) <= FeedRoundingMmPerMin
            ? feed
            : throw new ReportsDisagreeException("how fast Z may go", Shown(feedMmPerMin), found is double other ? Shown(other) : "nothing");
    }

    private static string Shown(double feedMmPerMin) => string.Create(CultureInfo.InvariantCulture, $"{feedMmPerMin:0.#} mm/min");
}
