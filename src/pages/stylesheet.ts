/** The pages' whole stylesheet: system fonts, one accent, dark on light; served inside the page, so nothing is fetched. */
export const stylesheet = `
:root {
  --ink: #1c2730; --quiet: #56636e; --line: #d8dedf; --faint: #eceeec; --paper: #fbfaf6; --sheet: #ffffff;
  --accent: #0b5563; --accent-soft: #9dbfc4; --warn: #8a5a00;
  --serif: "Iowan Old Style", "Palatino Linotype", Palatino, Georgia, ui-serif, serif;
  --sans: system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif;
}
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1rem/1.55 var(--sans); }
a { color: var(--accent); text-underline-offset: 0.15em; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; border-radius: 3px; }
.quiet, small { color: var(--quiet); }
.skip { position: absolute; left: 1rem; top: -4rem; background: var(--sheet); padding: 0.6rem 1rem; z-index: 2; }
.skip:focus { top: 0.5rem; }

.masthead, main, footer { max-width: 74rem; margin: 0 auto; padding: 0 clamp(1rem, 4vw, 2.5rem); }
.masthead { padding-top: 1.6rem; }
.name { margin: 0 0 1.1rem; font: 600 1.05rem/1.2 var(--serif); letter-spacing: 0.01em; }
.name a { color: var(--accent); text-decoration: none; }
.name a:hover { text-decoration: underline; }
form { display: flex; flex-wrap: wrap; gap: 0.9rem 1rem; align-items: flex-end; padding: 1rem 0 1.3rem;
  border-top: 3px solid var(--accent); border-bottom: 1px solid var(--line); }
label { display: block; flex: 1 1 9.5rem; min-width: 0; }
label.wide { flex: 2 1 19rem; }
label span { display: block; font-size: 0.82rem; color: var(--quiet); margin-bottom: 0.25rem; }
select, input, button { font: inherit; width: 100%; height: 2.75rem; padding: 0 0.7rem; border-radius: 4px;
  border: 1px solid #8b979f; background: var(--sheet); color: var(--ink); }
button { flex: 0 0 auto; width: auto; padding: 0 1.6rem; background: var(--accent); border-color: var(--accent); color: #fff;
  font-weight: 600; cursor: pointer; }
button:hover { background: #083f4a; }

.answer { padding: clamp(1.8rem, 5vw, 3.2rem) 0 1.4rem; max-width: 54rem; }
h1 { font: 600 clamp(1.7rem, 4.2vw, 2.5rem)/1.15 var(--serif); margin: 0; text-wrap: balance; }
h2 { font: 600 1.25rem/1.3 var(--serif); margin: 0 0 0.9rem; }
.scope { margin: 0.5rem 0 0; color: var(--quiet); }
.sentence { font: clamp(1.2rem, 2.6vw, 1.55rem)/1.4 var(--serif); margin: 1.5rem 0 0; text-wrap: pretty; }
.against { margin: 0.6rem 0 0; max-width: 44rem; }
.notice { margin: 1.1rem 0 0; padding: 0.1rem 0 0.1rem 1rem; border-left: 4px solid var(--warn); max-width: 46rem; }

.side-by-side { display: grid; grid-template-columns: minmax(0, 1fr); gap: 2.2rem; padding: 1rem 0 2.6rem; }
@media (min-width: 62rem) { .side-by-side { grid-template-columns: minmax(0, 1fr) 19.5rem; gap: 3.5rem; } }
figure { margin: 0; min-width: 0; }
.no-chart { margin: 0; padding: 2rem; background: var(--faint); text-align: center; }
figcaption { margin-top: 0.9rem; font-size: 0.88rem; color: var(--quiet); max-width: 42rem; }
.facts { margin: 0; font-size: 0.94rem; }
.facts > div { padding: 0.7rem 0; border-top: 1px solid var(--line); }
dt { font-size: 0.82rem; color: var(--quiet); }
dd { margin: 0.1rem 0 0; overflow-wrap: anywhere; }
dd small { display: block; font-size: 0.82rem; line-height: 1.45; margin-top: 0.25rem; }

.chart { display: block; overflow: visible; font: 0.92rem var(--sans); }
.chart text { fill: var(--ink); paint-order: stroke; stroke: var(--paper); stroke-width: 6px; stroke-linejoin: round; }
.chart .quiet { fill: var(--quiet); font-size: 0.84rem; }
.chart .label, .chart .figure { font-weight: 600; font-variant-numeric: tabular-nums; }
.chart .heading { fill: var(--quiet); font-size: 0.82rem; }
.chart .track { stroke: var(--line); }
.chart .tick line { stroke: var(--faint); }
.chart .tick text { fill: var(--quiet); font-size: 0.82rem; font-variant-numeric: tabular-nums; }
.chart .axis { stroke: #8b979f; }
.chart .interval { stroke: var(--accent-soft); stroke-width: 7; stroke-linecap: round; }
.chart .point { fill: var(--accent); stroke: var(--paper); stroke-width: 2; }
.chart .whole .interval { stroke: #a9b2b8; }
.chart .whole .point { fill: var(--ink); }
.chart .whole .label, .chart .whole .figure { font-size: 1.02rem; }
.chart .bounds { fill: var(--paper); stroke: var(--ink); stroke-width: 1.5; stroke-dasharray: 4 3; }
.chart .standard line { stroke: var(--ink); stroke-width: 1.5; }
.chart .standard.aspirational line { stroke-dasharray: 2 5; stroke-linecap: round; stroke-width: 2; }
.chart .standard text { font-size: 0.84rem; }
.chart .beyond { fill: none; stroke: var(--quiet); stroke-width: 2; }
@media (max-width: 34rem) { .chart .roomy { display: none; } }

.frame { overflow-x: auto; border-top: 3px solid var(--ink); }
table { border-collapse: collapse; width: 100%; font-size: 0.92rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; font: 600 1.25rem/1.3 var(--serif); padding: 0.9rem 0 0.6rem; }
th, td { padding: 0.55rem 0.6rem; text-align: right; vertical-align: top; font-weight: 400; }
thead th { color: var(--quiet); font-size: 0.82rem; line-height: 1.35; vertical-align: bottom; }
thead th[scope="colgroup"] { text-align: left; color: var(--ink); border-bottom: 1px solid var(--line); }
tbody tr { border-top: 1px solid var(--line); }
th.who { text-align: left; padding-left: 0; min-width: 8rem; overflow-wrap: anywhere; position: sticky; left: 0;
  background: var(--paper); }
td.rate { text-align: left; min-width: 11.5rem; }
thead th[scope="col"]:nth-child(2) { text-align: left; }
td.rate .quiet { white-space: normal; }
td.zero { color: var(--quiet); }
.opens { border-left: 1px solid var(--line); }
tbody th.who { font-weight: 600; }
tr.whole { background: var(--faint); }
tr.whole th.who { background: var(--faint); padding-left: 0.6rem; }
.note { font-size: 0.88rem; max-width: 46rem; margin: 1rem 0 2.8rem; }

.apart { list-style: none; margin: 0 0 2.6rem; padding: 0; columns: 24rem 2; column-gap: 3.5rem; }
.apart li { display: grid; grid-template-columns: 3.6rem 1fr; gap: 1rem; padding: 0.5rem 0; border-top: 1px solid var(--line);
  break-inside: avoid; }
.apart .count { text-align: right; font-weight: 600; font-variant-numeric: tabular-nums; }
details { border-top: 1px solid var(--line); border-bottom: 1px solid var(--line); padding: 0.9rem 0; }
summary { cursor: pointer; font: 600 1.25rem/1.3 var(--serif); }
.populations, .measures { max-width: 52rem; }
.measures > div { padding: 0.8rem 0; border-top: 1px solid var(--line); }
.measures dt { font-size: 1rem; font-weight: 600; }
.measures small { display: block; }
.populations > div { padding: 0.6rem 0; }
code { display: block; margin-top: 0.3rem; padding: 0.5rem 0.7rem; background: var(--faint); font-size: 0.85rem;
  white-space: pre-wrap; overflow-wrap: anywhere; border-radius: 3px; }
.frame.wiring { margin: 2rem 0; }
.wiring td.text, .wiring thead th { text-align: left; }
.wiring td.text { min-width: 9rem; max-width: 26rem; overflow-wrap: anywhere; }
.wiring td { white-space: normal; }
.wiring .way, .wiring .reference { display: block; }
.wiring .reference { font-size: 0.85rem; color: var(--quiet); }
.wiring th.group { padding-top: 1.4rem; color: var(--quiet); font-weight: 600; position: static; }
.wiring .bar { display: inline-block; width: 3.2rem; height: 0.55rem; margin-right: 0.5rem; border: 1px solid #8b979f;
  background: linear-gradient(to right, var(--accent) var(--share), var(--sheet) var(--share)); }
.looks { list-style: none; margin: 1.2rem 0 0; padding: 0; display: flex; flex-wrap: wrap; gap: 0.3rem 2.2rem; }
.places { display: flex; flex-wrap: wrap; gap: 0.3rem 1.4rem; margin: 0 0 1.1rem; font-size: 0.94rem; }
.places [aria-current] { color: var(--ink); font-weight: 600; text-decoration: none; }
.guide { padding-bottom: 2rem; overflow-wrap: anywhere; }
.guide h2 { margin-top: 2.6rem; }
.guide h3 { font: 600 1.05rem/1.3 var(--sans); margin: 0; }
.guide p, .guide .ways { max-width: 46rem; }
.guide .fact { padding: 1.4rem 0; border-top: 1px solid var(--line); }
.guide .terms > div { padding: 0.35rem 0; max-width: 46rem; }
.guide .elements { display: block; font-weight: 600; }
.guide .ways { padding-left: 1.4rem; }
.guide .ways p { margin: 0.2rem 0; }
.guide .ways ul { margin: 0.2rem 0 0.5rem; padding-left: 1.2rem; font-size: 0.92rem; }
.guide summary { font: 600 1rem/1.3 var(--sans); }
.guide .contents li { margin-bottom: 0.4rem; }
.guide .facts-of { display: flex; flex-wrap: wrap; gap: 0.1rem 0.9rem; font-size: 0.88rem; }
.guide pre { margin: 0.4rem 0 1rem; padding: 0.7rem 0.9rem; background: var(--faint); font-size: 0.85rem; line-height: 1.45;
  overflow-x: auto; border-radius: 3px; }
.problem { max-width: 44rem; margin: 3rem 0 5rem; padding-left: 1.2rem; border-left: 4px solid var(--warn); }
.problem p { font-size: 1.1rem; overflow-wrap: anywhere; }
footer { padding-top: 1.6rem; padding-bottom: 3rem; font-size: 0.9rem; color: var(--quiet); }
footer p { max-width: 46rem; }

@media print {
  @page { margin: 16mm; }
  :root { --paper: #fff; --faint: #f2f2f2; }
  body { font-size: 10pt; }
  form, .skip, details:not([open]) { display: none; }
  .masthead, main, footer { max-width: none; padding-left: 0; padding-right: 0; }
  .answer { padding-top: 0.6rem; }
  .side-by-side { grid-template-columns: minmax(0, 1fr); gap: 1.2rem; }
  .facts { columns: 2; column-gap: 2rem; }
  .facts > div, tr, .chart .row, .notice { break-inside: avoid; }
  figure, .apart { break-inside: avoid; }
  .frame { overflow: visible; }
  .places, .contents { display: none; }
  .guide pre { white-space: pre-wrap; overflow-wrap: anywhere; }
  .fact { break-inside: avoid; }
  table { font-size: 7pt; }
  thead th { font-size: 6.5pt; }
  th, td { padding: 0.25rem 0.2rem; }
  td.rate { min-width: 5.5rem; }
  th.who { position: static; min-width: 4.2rem; }
  .apart { columns: 1; }
  thead { display: table-header-group; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`
