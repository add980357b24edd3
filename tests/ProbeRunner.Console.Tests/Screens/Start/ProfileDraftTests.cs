using ProbeRunner.Console.Screens.Profiles;

namespace ProbeRunner.Console.Tests.Screens.Start;

public sealed class ProfileDraftTests
{
    [Fact]
    public void The_usual_machine_is_a_sound_profile_of_every_kind_of_probe()
    {
        foreach (var kind in ProfileDraft.Kinds)
        {
            var (profile, fault) = (ProfileDraft.Usual with { Kind = kind }).Check();
            Assert.True(profile is not null, fault);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("-5")]
    [InlineData("two hundred")]
    [InlineData("220\"\nname = \"x")]
    public void What_is_no_width_is_said_and_no_profile_is_made(string width) =>
        Assert.NotNull((ProfileDraft.Usual with { Width = width }).Check().Fault);

    [Theory]
    [InlineData("x")]
    [InlineData("-40,5")]
    [InlineData("NaN")]
    [InlineData("")]
    public void What_is_no_number_is_named_by_its_field_and_not_by_a_place_in_a_file(string typed)
    {
        var fault = (ProfileDraft.Usual with { OffsetX = typed }).Check().Fault;

        Assert.StartsWith("Probe x: ", fault, StringComparison.Ordinal);
        Assert.DoesNotContain(".toml", fault, StringComparison.Ordinal);
    }
}
