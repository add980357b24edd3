using System.Globalization;
using ProbeRunner.SimulatedPrinter.Time;
using ProbeRunner.Transport.Commands;
using ProbeRunner.Transport.Links;
using static ProbeRunner.Transport.Tests.Commands.WireGrammar;

namespace ProbeRunner.Transport.Tests.Commands;

/// <summary>Whole sessions over a wire that damages lines, each from a seed.</summary>
public class NoisyWireTests
{
    private const int Places = 40;

    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 100)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void One_bad_byte_in_a_tenth_of_the_sent_lines_changes_no_exchange_and_is_never_acted_on(int seed)
    {
        Session clean = Perform((_, _) => { }, (_, _) => { }, _ => false, numbersAcknowledgements: seed % 3 == 0);
        Session noisy = Perform(DamageATenth(seed), (_, _) => { }, _ => false, numbersAcknowledgements: seed % 3 == 0);
        Assert.True(noisy.Failure is null, $"{noisy.Failure?.GetType().Name} after\n{noisy.Trace}");
        Assert.Equal(clean.Answers, noisy.Answers);
        Assert.Equal(clean.CarriedOut, WithoutImmediateRepeats(noisy.CarriedOut));
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Doubled_acknowledgements_are_never_taken_for_another_places_answer(int seed)
    {
        Session clean = Perform((_, _) => { }, (_, _) => { }, _ => false, false);
        Session doubled = Perform((_, _) => { }, (_, _) => { }, ordinal => Hash(seed, ordinal) % 10 == 0, false);
        Assert.True(doubled.Failure is null, $"{doubled.Failure?.GetType().Name} after\n{doubled.Trace}");
        Assert.Equal(clean.Answers, doubled.Answers);
        Assert.Equal(clean.CarriedOut, doubled.CarriedOut);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void One_bad_byte_in_a_tenth_of_the_received_lines_ends_in_answers_of_the_right_place_or_in_a_typed_failure(int seed)
    {
        Session noisy = Perform((_, _) => { }, DamageATenth(seed), _ => false, false);
        Assert.True(
            noisy.Failure is null or LineRefusedException or LinkSilentException or ControllerResetException or ControllerHaltedException,
            noisy.Failure?.ToString());
        for (int i = 0; i < noisy.Answers.Count; i++)
        {
            // A damaged answer is nobody's; a whole one must be this place's.
            Assert.All(noisy.Answers[i], line => Assert.DoesNotContain(
                Enumerable.Range(0, Places).Where(other => other != i), other => line == $"Bed {Place(other)} Z: 0.1"));
        }
    }

    private static Session Perform(
        Action<int, byte[]> damageSent, Action<int, byte[]> damageReceived, Func<int, bool> doubles, bool numbersAcknowledgements)
        => VirtualTime.Run(async time =>
        {
            (DuplexLink host, DuplexLink far) = DuplexLink.CreatePair("noisy");
            var controller = new TinyController(far, time)
            {
                Damage = damageReceived,
                Doubles = doubles,
                NumbersAcknowledgements = numbersAcknowledgements,
            };
            Task running = controller.RunAsync();
            var channel = new CommandChannel(new DamagedLink(host, damageSent), Instance, time);
            var answers = new List<string[]>();
            Exception? failure = null;
            try
            {
                await channel.BeginSessionAsync(CancellationToken.None);
                for (int i = 0; i < Places; i++)
                {
                    await channel.SendAsync(Move($"{Place(i)} Z:5.00"), CancellationToken.None);
                    await channel.SendAsync(new Command("M400", CommandKind.LongMotion), CancellationToken.None);
                    Exchange position = await channel.SendAsync(Position, CancellationToken.None);
                    Exchange touch = await channel.SendAsync(Touch(Place(i)), CancellationToken.None);

                    // A command cut in two by a byte that became a line end may be answered twice, both times about this place.
                    answers.Add([.. position.Replies.Distinct(), .. touch.Replies.Distinct()]);
                }
            }
            catch (IOException stopped)
            {
                failure = stopped;
            }

            await channel.DisposeAsync();
            await running;
            Assert.Equal(0, time.ForeignPosts);
            string trace = string.Join('\n', channel.Trace.Recent().TakeLast(25).Select(entry => $"{entry.Time:mm:ss.fff} {entry.Direction} {entry.Printable}"));
            return new Session(answers, controller.CarriedOut, failure, trace);
        });

    private static string Place(int i) => string.Create(CultureInfo.InvariantCulture, $"X: {i}.00 Y: {i * 2}.00");

    /// <summary>Damage by a hash of seed and ordinal: one byte of a line becomes another.</summary>
    private static Action<int, byte[]> DamageATenth(int seed) => (ordinal, bytes) =>
    {
        uint dice = Hash(seed, ordinal);
        if (dice % 10 == 0)
        {
            int place = (int)((dice >> 8) % (uint)bytes.Length);
            bytes[place] ^= (byte)(1 + (dice >> 16) % 255);
        }
    };

    private static uint Hash(int seed, int ordinal)
    {
        uint hash = ((uint)seed * 2654435761) ^ ((uint)ordinal * 2246822519);
        hash = (hash ^ (hash >> 15)) * 2246822519;
        hash = (hash ^ (hash >> 13)) * 3266489917;
        return hash ^ (hash >> 16);
    }

    /// <summary>
    /// A byte that becomes a line end makes two lines of one: the whole command may then be carried out without its number, and once more
    /// under it. It is the right command both times.
    /// </summary>
    private static List<string> WithoutImmediateRepeats(List<string> commands)
        => [.. commands.Where((command, i) => i == 0 || command != commands[i - 1])];

    private sealed record Session(List<string[]> Answers, List<string> CarriedOut, Exception? Failure, string Trace);
}
