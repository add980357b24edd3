using ProbeRunner.Campaigns;

namespace ProbeRunner.Procedures.Tests.Safety;

public sealed class MischievousPersonTests
{
    private const int Operators = 500;

    [Fact]
    public void No_answers_and_no_wrong_numbers_send_the_nozzle_below_the_floor_or_deeper_than_a_tenth_below_contact()
    {
        string[] broken = new string[Operators];
        int putToTest = 0;
        Parallel.For(0, Operators, seed =>
        {
            MischiefCase one = MischiefCase.Of(seed);
            MischiefTrial trial = MischiefTrial.Of(one);
            _ = trial.IsPutToTest ? Interlocked.Increment(ref putToTest) : 0;
            broken[seed] = trial.Broken.IsEmpty ? string.Empty : $"{one.Seed} {one.Person} stored {one.StoredOffsetZ:0.00} entered {one.EnteredDistanceMm}: {string.Join("; ", trial.Broken.Take(3))}";
        });

        Assert.InRange(putToTest, Operators * 97 / 100, Operators);
        Assert.True(broken.All(string.IsNullOrEmpty), string.Join('\n', broken.Where(text => text.Length > 0)));
    }

    [Theory]
    [InlineData(741)] // a wrong stored offset that puts the height near the bed below the machine's lowest
    [InlineData(4548)]
    [InlineData(1290)] // an answer taken back at a height that a later contact had closed
    [InlineData(9262)]
    public void No_person_makes_a_step_ask_for_what_the_guard_refuses(int seed) => Assert.Empty(MischiefTrial.Of(MischiefCase.Of(seed)).Broken);
}
