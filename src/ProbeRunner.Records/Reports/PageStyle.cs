namespace ProbeRunner.Records.Reports;

/// <summary>How a report page looks, on a screen by day and night, on a telephone and on A4 paper.</summary>
internal static class PageStyle
{
    /// <summary>The style sheet.</summary>
    public const string Css =
        """
        :root { color-scheme: light dark; --paper: #fbfaf7; --sheet: #fff; --ink: #1d1f23; --soft: #555b64; --rule: #d5d2ca; --accent: #1d5c8f;
          --good: #17603b; --good-back: #e4f1e8; --bad: #8f2413; --bad-back: #fae6e1; --open: #6a4b00; --open-back: #faefd0; --band: #1d5c8f22; --hatch: #8a867c; }
        @media (prefers-color-scheme: dark) { :root { --paper: #14161a; --sheet: #1b1e23; --ink: #e7e5df; --soft: #a9aeb7; --rule: #3a3f47; --accent: #86bce8;
          --good: #8fd6ab; --good-back: #16301f; --bad: #f5a896; --bad-back: #3a1a14; --open: #efcd7c; --open-back: #352a0d; --band: #86bce82b; --hatch: #7d818a; } }
        * { box-sizing: border-box; }
        html { background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, "Segoe UI", Roboto, "Liberation Sans", "DejaVu Sans", sans-serif; -webkit-text-size-adjust: 100%; }
        body { margin: 0 auto; max-width: 62rem; padding: 1.2rem 1rem 3rem; overflow-wrap: anywhere; }
        h1 { font-size: 1.15rem; font-weight: 600; margin: 0; }
        h2 { font-size: 1.2rem; margin: 2.4rem 0 .6rem; padding-top: .5rem; border-top: 2px solid var(--rule); }
        h3 { font-size: 1rem; margin: 1.4rem 0 .3rem; }
        p, ul, ol { margin: .4rem 0; max-width: 46rem; }
        .sub, figcaption, .note { color: var(--soft); font-size: .9rem; }
        .verdict { display: grid; grid-template-columns: auto 1fr; gap: .2rem .9rem; align-items: start; margin: 1rem 0; padding: .9rem 1.1rem; border-left: .5rem solid; border-radius: .3rem; max-width: none; }
        .verdict .sign { font-size: 2rem; line-height: 1.2; } .verdict p { margin: 0; max-width: none; } .verdict .word { font-size: 1.35rem; font-weight: 700; line-height: 1.3; }
        .fit { color: var(--good); background: var(--good-back); } .not-fit { color: var(--bad); background: var(--bad-back); } .undecided { color: var(--open); background: var(--open-back); }
        .verdict p + p, .alarm p { color: var(--ink); }
        .alarm { border: 3px solid var(--bad); color: var(--bad); background: var(--bad-back); padding: .8rem 1rem; margin: 1rem 0; font-weight: 700; font-size: 1.15rem; }
        .missing { border: 1px dashed var(--soft); padding: .6rem .9rem; color: var(--soft); max-width: 46rem; }
        .figures { display: flex; flex-wrap: wrap; gap: 1px; margin: 1rem 0; padding: 0; background: var(--rule); border: 1px solid var(--rule); }
        .figures div { flex: 1 1 9.5rem; background: var(--sheet); padding: .6rem .8rem; } .figures dt { color: var(--soft); font-size: .85rem; } .figures dd { margin: 0; font-size: 1.3rem; font-weight: 600; font-variant-numeric: tabular-nums; overflow-wrap: normal; }
        .figures dd small { display: block; font-size: .82rem; font-weight: 400; color: var(--soft); }
        ol.findings { padding-left: 1.6rem; max-width: 50rem; } ol.findings li { margin: .8rem 0; padding-left: .3rem; } ol.findings b { font-weight: 650; } .next { border-left: 3px solid var(--accent); padding-left: .6rem; }
        figure { margin: 1rem 0; } figure svg { display: block; width: 100%; height: auto; background: var(--sheet); border: 1px solid var(--rule); }
        .scroll { overflow-x: auto; }
        table { border-collapse: collapse; font-variant-numeric: tabular-nums; font-size: .92rem; margin: .6rem 0; background: var(--sheet); overflow-wrap: normal; }
        caption { text-align: left; color: var(--soft); font-size: .9rem; padding: .2rem 0; }
        th, td { border: 1px solid var(--rule); padding: .25rem .55rem; text-align: left; vertical-align: top; } th { font-weight: 600; } .n { text-align: right; white-space: nowrap; } thead th { border-bottom: 2px solid var(--soft); }
        td.differs { outline: 2px solid var(--bad); outline-offset: -2px; font-weight: 700; } td small { color: var(--soft); display: block; } tr.voided td { text-decoration: line-through; color: var(--soft); }
        td.share { white-space: nowrap; } .bar { display: inline-block; height: .7rem; background: var(--accent); vertical-align: baseline; min-width: 1px; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
        pre { background: var(--sheet); border: 1px solid var(--rule); padding: .6rem .8rem; overflow-x: auto; font: .92rem/1.5 ui-monospace, "DejaVu Sans Mono", "Liberation Mono", monospace; white-space: pre-wrap; }
        code, .mono { font-family: ui-monospace, "DejaVu Sans Mono", "Liberation Mono", monospace; font-size: .92em; }
        details { margin: .6rem 0; } summary { cursor: pointer; padding: .3rem 0; font-weight: 600; } summary:focus-visible { outline: 2px solid var(--accent); }
        dl.identity { display: grid; grid-template-columns: minmax(8rem, auto) 1fr; gap: .15rem 1rem; font-size: .92rem; } dl.identity dt { color: var(--soft); } dl.identity dd { margin: 0; }
        .pair { display: grid; grid-template-columns: 1fr; gap: 0 2rem; } @media (min-width: 52rem) { .pair { grid-template-columns: 1.25fr 1fr; } }
        svg text { font-family: inherit; fill: var(--ink); }
        .bed-map text { font-size: 7px; } .chart text { font-size: 12px; }
        .tick-x, .side, .value { text-anchor: middle; } .tick-y { text-anchor: end; }
        .bed-map { max-width: 46rem; } figure .chart { min-width: 30rem; } .bed-map .value { font-size: 7.5px; font-weight: 600; paint-order: stroke; stroke-width: 1.6px; stroke-opacity: .75; stroke-linejoin: round; font-variant-numeric: tabular-nums; }
        .value[fill="#000"] { fill: #000; } .value[fill="#fff"] { fill: #fff; }
        .plate { fill: var(--paper); } .edge { fill: none; stroke: var(--ink); stroke-width: .8; } .hatch { stroke: var(--hatch); stroke-width: 1.2; } .hatch-dense { stroke: #111; stroke-width: .6; fill: none; }
        .clip { stroke: #111; stroke-width: .8; } .clip-back { fill: #e8e4da; } .contour { fill: none; stroke-width: .5; stroke-opacity: .6; } .contour.zero { stroke-width: 1.1; stroke-opacity: .9; }
        .place { fill: #111; stroke: #fff; stroke-width: .3; } .suspect { stroke: #8f2413; stroke-width: 1.2; fill: none; } .suspect-ground { stroke: #fff; stroke-width: 2.6; fill: none; } .screw { fill: #fff; fill-opacity: .85; stroke: #111; stroke-width: .8; } .home { fill: none; stroke: #111; stroke-width: 1.2; }
        .tick { fill: none; stroke: var(--ink); stroke-width: 1; } .bed-map .tick { stroke-width: .6; } .grid { stroke: var(--rule); stroke-width: 1; fill: none; }
        .limit-band { fill: var(--band); } .limit { stroke: var(--accent); stroke-dasharray: 6 4; fill: none; } .mean { stroke: var(--ink); stroke-width: 1.4; fill: none; } .trace { stroke: var(--soft); stroke-width: 1; fill: none; }
        .point { fill: var(--accent); stroke: var(--sheet); } .point-odd { stroke: var(--bad); stroke-width: 2; fill: none; }
        .felt-free { fill: var(--sheet); stroke: var(--accent); stroke-width: 2; } .felt-drags { fill: var(--accent); stroke: var(--sheet); } .felt-pinched { fill: var(--bad); stroke: var(--sheet); }
        footer { margin-top: 3rem; color: var(--soft); font-size: .85rem; border-top: 1px solid var(--rule); padding-top: .6rem; }
        @page { size: A4; margin: 14mm; }
        @media print { :root { --paper: #fff; --sheet: #fff; --ink: #111; --soft: #444; --rule: #bbb; --accent: #1d5c8f; --good: #17603b; --good-back: #fff; --bad: #8f2413; --bad-back: #fff; --open: #6a4b00; --open-back: #fff; --band: #1d5c8f22; --hatch: #777; color-scheme: light; }
          html { font-size: 10pt; } body { max-width: none; padding: 0; } h2 { break-after: avoid; } figure, .verdict, .alarm, .figures, tr, ol.findings li, section > div > table, .pair table { break-inside: avoid; } .bed-map { max-width: 135mm; } figure .chart { min-width: 0; max-width: 150mm; } .bed-map *, .chart * { print-color-adjust: exact; -webkit-print-color-adjust: exact; } .screen-only { display: none; } }
        """;
}
