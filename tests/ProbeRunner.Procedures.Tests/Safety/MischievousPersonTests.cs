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
}
