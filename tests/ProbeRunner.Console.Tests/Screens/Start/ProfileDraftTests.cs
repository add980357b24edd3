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
}
