using ProbeRunner.Records.Markup;

namespace ProbeRunner.Records.Reports.Sections;

/// <summary>The usual cautions of work at such a machine.</summary>
internal static class CautionsSection
{
    /// <summary>The section.</summary>
    public static Html Render() => Html.Of($"""
        <section aria-labelledby="cautions"><h2 id="cautions">Cautions</h2>
        <ul>
        <li><b>Burns.</b> Nozzle and bed stay hot long after the heaters are off. Let them cool before you touch them.</li>
        <li><b>Pinching.</b> The machine moves without warning: keep fingers, hair and sleeves out of it. Paper out and hands clear before anything moves.</li>
        <li><b>Mains.</b> Keep the mains switch within reach: it is the emergency stop. Work on wiring only with the plug pulled; mains wiring is for a licensed person.</li>
        <li><b>Fire.</b> Never leave a heated machine alone, and keep a smoke alarm near it.</li>
        <li>After a new offset, keep a hand at the mains switch until the nozzle has been near the bed once.</li>
        <li>The maker’s instructions and your local rules come before anything said here.</li>
        </ul>
        </section>
        """);
}
