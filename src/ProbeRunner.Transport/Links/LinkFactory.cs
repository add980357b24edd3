using Polly;
using Polly.Retry;
using Polly.Timeout;

namespace ProbeRunner.Transport.Links;

/// <summary>Opens links.</summary>
public static class LinkFactory
{
    private static readonly TimeSpan FirstPause = TimeSpan.FromMilliseconds(200);

    /// <summary>
    /// Opens a link. Failures that pass (a bridge that is starting, a device that was plugged in just now) are tried again within
    /// <see cref="LinkOptions.OpenWithin"/>; a missing device, missing permission and a port in use are told at once.
    /// </summary>
    /// <param name="address">Where the controller is.</param>
    /// <param name="options">How to open.</param>
    /// <param name="time">The clock of the waits: real time, since it is the operating system that is waited for.</param>
    /// <param name="cancel">Ends the attempt.</param>
    /// <exception cref="PortOpenException">It could not be opened; nothing was sent.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The bit rate is out of range.</exception>
    public static async ValueTask<ILink> OpenAsync(LinkAddress address, LinkOptions options, TimeProvider time, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(address);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        if (options.Baud is < 300 or > 4_000_000)
        {
            throw new ArgumentOutOfRangeException(nameof(options), options.Baud, "The bit rate must be from 300 to 4,000,000 per second.");
        }

        ResilienceContext context = ResilienceContextPool.Shared.Get(continueOnCapturedContext: true, cancel);
        try
        {
            return await Guard(options, time).ExecuteAsync(attempt => OpenOnceAsync(address, options, attempt.CancellationToken), context);
        }
        catch (TimeoutRejectedException late)
        {
            throw new PortOpenException(
                address.Text, PortProblem.Failed, $"{address.Text} does not answer. Check that it is switched on and connected.", null, late);
        }
        finally
        {
            ResilienceContextPool.Shared.Return(context);
        }
    }

    private static ResiliencePipeline Guard(LinkOptions options, TimeProvider time)
        => new ResiliencePipelineBuilder { TimeProvider = time }
            .AddTimeout(options.OpenWithin)
            .AddRetry(new RetryStrategyOptions
            {
                MaxRetryAttempts = 4,
                Delay = FirstPause,
                BackoffType = DelayBackoffType.Exponential,
                ShouldHandle = static outcome => ValueTask.FromResult(
                    outcome.Outcome.Exception is PortOpenException { Problem: PortProblem.Failed or PortProblem.StillHeld } or TimeoutRejectedException),
            })
            .AddTimeout(options.AttemptWithin)
            .Build();

    private static async ValueTask<ILink> OpenOnceAsync(LinkAddress address, LinkOptions options, CancellationToken cancel) => address switch
    {
        LinkAddress.Tcp tcp => await TcpLink.ConnectAsync(tcp, options, cancel),
        LinkAddress.Device device when OperatingSystem.IsLinux() && options.Backend != SerialBackend.SerialPort
            => DescriptorLink.Open(device.Path, options),
        LinkAddress.Device when options.Backend == SerialBackend.Descriptor
            => throw new PlatformNotSupportedException("The plain descriptor is for Linux; choose the serial port."),
        LinkAddress.Device device => SerialPortLink.Open(device.Path, options),
        _ => throw new ArgumentException("Not an address of a link.", nameof(address)),
    };
}
