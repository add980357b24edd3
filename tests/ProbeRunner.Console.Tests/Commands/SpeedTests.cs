using ProbeRunner.Console.Commands;
using ProbeRunner.Console.Wiring;

namespace ProbeRunner.Console.Tests.Commands;

/// <summary>How fast the simulated printer goes.</summary>
public sealed class SpeedTests
{
    [Theory]
    [InlineData(null, RunCommand.SimulatedSpeed)]
    [InlineData(1.0, 1)]
    [InlineData(2.0, 2)]
    public void A_speed_that_is_given_is_taken_and_real_speed_is_one_too(double? given, double wanted) =>
        Assert.Equal(wanted, Assert.IsType<Connection.ToSimulator>(RunCommand.ConnectionOf(null, null, null, given, null, "good")).Speed);

    [Fact]
    public void A_real_machine_goes_at_its_own() =>
        Assert.Throws<UsageException>(() => RunCommand.ConnectionOf("/dev/ttyUSB0", null, null, 2, null, null));
}
