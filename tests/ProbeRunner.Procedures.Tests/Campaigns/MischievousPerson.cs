using ProbeRunner.Procedures.Operators;
using ProbeRunner.SimulatedPrinter.Senses;

namespace ProbeRunner.Campaigns;

/// <summary>
/// A person who gets the machine ready as told, and then answers every question that decides where the nozzle goes with mischief.
/// Bounded: after many answers to one question the first of the paper's words is given for ever, which ends any test.
/// </summary>
internal sealed class MischievousPerson(Mischief mischief, int seed, TimeProvider time, ISenses senses, Action<Prompt, string> watch) : IOperator
{
    private const int MostMeddling = 60;
    private static readonly string[] Felt = ["free", "drags", "pinched"];
    private readonly Random _chance = new(seed);
    private readonly Dictionary<string, int> _asked = [];

    public bool IsPresent => true;

    public async Task<Answer> AskAsync(Prompt prompt, CancellationToken cancel)
    {
        int asked = _asked[prompt.Id] = _asked.GetValueOrDefault(prompt.Id) + 1;
        await Task.Delay(TimeSpan.FromSeconds(1), time, cancel);
        string answer = await WordAsync(prompt, asked, cancel);
        watch(prompt, answer);
        return new Answer(answer);
    }

    private async Task<string> WordAsync(Prompt prompt, int asked, CancellationToken cancel)
    {
        switch (prompt.Id)
        {
            case var _ when prompt.HandsClear:
                await senses.AskAsync("paper out", cancel);
                return Answer.Continue;
            case PromptIds.SelfCheckPush:
                await senses.AskAsync("finger next-descent", cancel);
                return Answer.Continue;
            case PromptIds.SelfCheckHold:
                await senses.AskAsync("finger on", cancel);
                return Answer.Continue;
            case PromptIds.SelfCheckLetGo:
                await senses.AskAsync("finger off", cancel);
                return Answer.Continue;
            case PromptIds.StepDownPaperIn or PromptIds.VerifyPaperIn:
                await senses.AskAsync("paper in", cancel);
                return Answer.Continue;
            case PromptIds.StepDownPaper or PromptIds.VerifyPaper:
                return await PaperAsync(prompt, asked, cancel);
            case PromptIds.ProbeOffsetMethod:
                return "mark";
            case PromptIds.ProbeOffsetNozzleAtMark:
                return mischief switch
                {
                    Mischief.AnyChoice or Mischief.CallsOff => Any(prompt),
                    Mischief.AlwaysDrags => "touching",
                    Mischief.Meddles => await senses.AskAsync("look gap", cancel) == "touching" ? "touching" : "lower",
                    _ => "lower",
                };
            case PromptIds.ProbeOffsetProbeAtMark:
                return _chance.Next(12) == 0 ? "over" : Any(prompt);
            case PromptIds.VerifyGapFive or PromptIds.VerifyGapOne:
                return mischief == Mischief.AnyChoice ? Any(prompt) : "right";
        }

        return prompt.Kind switch
        {
            PromptKind.Acknowledge => Answer.Continue,
            _ when PromptIds.WhenAllIsWell.TryGetValue(prompt.Id, out string? usual) => usual,
            _ => prompt.Choices[0].Word,
        };
    }

    private async Task<string> PaperAsync(Prompt prompt, int asked, CancellationToken cancel)
    {
        string felt = await senses.AskAsync("feel", cancel);
        string[] meddling = [.. prompt.Choices.Select(choice => choice.Word).Except(Felt)];
        bool meddles = asked < MostMeddling && meddling.Length > 1;
        return mischief switch
        {
            Mischief.AlwaysFree => "free",
            Mischief.AlwaysDrags => "drags",
            Mischief.AlwaysPinched => "pinched",
            Mischief.Opposite => felt == "free" ? "pinched" : "free",
            Mischief.ByTurns => asked % 2 == 0 ? "free" : "pinched",
            Mischief.ThenFree => asked == 1 ? "drags" : "free",
            Mischief.AnyChoice => meddles ? Any(prompt) : "free",
            Mischief.CallsOff => _chance.Next(25) == 0 ? "call-off" : Felt[_chance.Next(3)],
            Mischief.Meddles => meddles && _chance.Next(2) == 0 ? meddling.Where(word => word != "call-off").ElementAt(_chance.Next(meddling.Length - 1)) : felt,
            _ => meddles && meddling.Contains("down") && _chance.Next(4) > 0 ? "down" : "free",
        };
    }

    private string Any(Prompt prompt) => prompt.Choices[_chance.Next(prompt.Choices.Length)].Word;
}
