using ProbeRunner.Records.Markup;
using ProbeRunner.Records.Text;

namespace ProbeRunner.Records.Pictures;

/// <summary>The frame of a plot: a rectangle on paper with a range of values along each side.</summary>
internal sealed record Chart(double Width, double Height, double LowX, double HighX, double LowY, double HighY)
{
    /// <summary>Room on the left for numbers.</summary>
    public const double Left = 64;

    /// <summary>Room on the right for names of lines.</summary>
    public const double Right = 78;

    /// <summary>Room above.</summary>
    public const double Top = 14;

    /// <summary>Room below for numbers and the axis' name.</summary>
    public const double Bottom = 34;

    /// <summary>Right edge of the plot.</summary>
    public double End => Width - Right;

    /// <summary>Lower edge of the plot.</summary>
    public double Base => Height - Bottom;

    /// <summary>A value along X on paper.</summary>
    public double X(double value) => Left + ((End - Left) * (value - LowX) / (HighX - LowX));

    /// <summary>A value along Y on paper.</summary>
    public double Y(double value) => Base - ((Base - Top) * (value - LowY) / (HighY - LowY));

    /// <summary>Frame, grid lines and numbers of the Y axis, with the names of both.</summary>
    public Html Frame(string nameX, string nameY, int ticksWanted = 5)
    {
        double step = Ticks.Step(HighY - LowY, ticksWanted);
        Html lines = Html.Each(Ticks.Within(LowY, HighY, step), level => Html.Of(
            $"""<path class="grid" d="M{Left} {Y(level)}H{End}"/><text class="tick-y" x="{Left - 6}" y="{Y(level) + 4}">{Figures.Number(level, Ticks.Decimals(step))}</text>"""));
        return Html.Of($"""
            {lines}
            <path class="tick" d="M{Left} {Top}V{Base}H{End}"/>
            <text class="side" x="{(Left + End) / 2}" y="{Height - 6}">{nameX}</text>
            <text class="side" transform="translate(16 {(Top + Base) / 2}) rotate(-90)">{nameY}</text>
            """);
    }

    /// <summary>A level line with its name at the right.</summary>
    public Html Level(double value, string kind, string name) => Html.Of(
        $"""<path class="{kind}" d="M{Left} {Y(value)}H{End}"/><text class="unit" x="{End + 4}" y="{Y(value) + 4}">{name}</text>""");
}
