using ProbeRunner.Console.Screens.Start;

namespace ProbeRunner.Console.Tests.Screens.Start;

/// <summary>Which port the start screen takes a run up again on.</summary>
public sealed class ResumePortTests
{
    private const string OwnName = "/dev/serial/by-id/usb-Bench_Controller_0001";

    /// <summary>Plugged in elsewhere: the stable name leads to another device.</summary>
    private static readonly PortChoice Own = new(OwnName, "ttyUSB3", "Bench controller");

    private static readonly PortChoice Other = new("/dev/serial/by-id/usb-Bench_Controller_0002", "ttyUSB0", "Bench controller");

    private static readonly PortChoice Simulated = new("simulated:good", "simulated printer: good", "A good machine", "good");

    [Fact]
    public void A_run_goes_on_on_its_own_port_wherever_that_is_now_and_whatever_is_chosen()
    {
        var found = ResumePort.Of(OwnName, isSimulated: false, [Other, Own, Simulated], Other);

        Assert.Equal(Own, found.Port);
        Assert.Contains("the port it was on", found.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_whose_port_is_not_there_is_offered_no_other()
    {
        foreach (var chosen in new[] { Other, Simulated, null })
        {
            var found = ResumePort.Of(OwnName, isSimulated: false, [Other, Simulated], chosen);

            Assert.Null(found.Port);
            Assert.Contains(OwnName, found.Words, StringComparison.Ordinal);
            Assert.Contains("Plug that machine in", found.Words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_simulated_run_goes_on_on_a_simulated_printer_only()
    {
        Assert.Equal(Simulated, ResumePort.Of("/dev/pts/9", isSimulated: true, [Other, Simulated], Simulated).Port);
        Assert.Null(ResumePort.Of("/dev/pts/9", isSimulated: true, [Other, Simulated], Other).Port);
        Assert.Null(ResumePort.Of("/dev/pts/9", isSimulated: true, [Other, Simulated], null).Port);
    }

    [Fact]
    public void A_run_whose_record_cannot_be_read_is_taken_up_on_what_is_chosen_which_says_what_is_wrong() =>
        Assert.Equal(Other, ResumePort.Of(string.Empty, isSimulated: false, [Other], Other).Port);
}
