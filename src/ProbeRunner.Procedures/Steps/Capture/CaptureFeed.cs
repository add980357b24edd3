using ProbeRunner.Procedures.Requests;

namespace ProbeRunner.Procedures.Steps.Capture;

/// <summary>Keeps the touches of a capture to the rule's feed, by Z's own limit, and puts that back.</summary>
internal static class CaptureFeed
{
    /// <summary>The limit as found; null when the rule doesn't ask for a feed. Asked for outside the capture's section.</summary>
    public static async Task<double?> AsFoundAsync(StepContext context, CaptureRule rule) =>
        rule.TouchFeedMmPerMin > 0 ? (await context.DoAsync(new ReadHighestZFeed())).FeedMmPerMin : null;

    /// <summary>Does a capture with the limit lowered where the rule asks for less than was found.</summary>
    public static async Task<T> KeptAsync<T>(StepContext context, CaptureRule rule, double? asFound, Func<Task<T>> capture)
    {
        if (!(asFound > rule.TouchFeedMmPerMin))
        {
            return await capture();
        }

        await context.DoAsync(new LimitZFeed(rule.TouchFeedMmPerMin));
        T captured = await capture();
        await context.DoAsync(new LimitZFeed(asFound.Value));
        return captured;
    }
}
