#include "io/page_parts.h"

namespace standpoint::page {

// Verdict colours are from the palette of Okabe and Ito ("Color Universal Design", 2008), chosen to
// be told apart with any common colour vision; shape, dash pattern and word say the same.
std::string style() {
  return R"(:root {
  --ink: #1b1c1e; --soft: #5c6066; --rule: #d5d7da; --wash: #f4f5f6;
  --full: #009e73; --stylus: #e69f00; --blocked: #d55e00; --area: #0072b2;
}
* { box-sizing: border-box; }
html { color-scheme: light; -webkit-text-size-adjust: 100%; }
body {
  margin: 0 auto; padding: 3rem 1.5rem 4rem; max-width: 52rem; background: #fff; color: var(--ink);
  font: 15px/1.5 system-ui, -apple-system, "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif;
}
h1, h2, h3, p, ul, dl, figure { margin: 0; }
h1 { font-size: 2rem; line-height: 1.15; font-weight: 650; letter-spacing: -.015em; overflow-wrap: anywhere; }
h2 { font-size: 1.1rem; line-height: 1.3; font-weight: 650; margin-bottom: .9rem; }
h3 { font-size: .95rem; font-weight: 650; overflow-wrap: anywhere; }
h3 span, .group span { color: var(--soft); font-weight: 400; margin-left: .35em; }
.kind { color: var(--soft); margin-bottom: .25rem; }
.lede { max-width: 42rem; color: var(--soft); }
.key { display: grid; grid-template-columns: repeat(4, auto); justify-content: space-between; gap: 1rem 1.5rem; margin: 1.6rem 0 1.2rem; }
.key div { display: flex; flex-direction: column; }
.key dd { margin: 0; font-size: 1.5rem; line-height: 1.2; font-weight: 600; font-variant-numeric: tabular-nums; }
.key dt { order: 2; white-space: nowrap; color: var(--soft); font-size: .85rem; }
section { margin-top: 2.75rem; padding-top: 1.1rem; border-top: 1px solid var(--ink); }
section > p { max-width: 42rem; }
table { width: 100%; border-collapse: collapse; font-size: .87rem; line-height: 1.4; }
figure + figure { margin-top: 1.2rem; }
figcaption { color: var(--soft); font-size: .85rem; margin-top: .2rem; }
th, td { text-align: left; vertical-align: top; padding: .36rem .9rem .36rem 0; unicode-bidi: isolate; overflow-wrap: break-word; }
td:nth-child(2) { overflow-wrap: anywhere; }
th:last-child, td:last-child { padding-right: 0; }
thead th { font-weight: 500; color: var(--soft); vertical-align: bottom; border-bottom: 1px solid var(--ink); overflow-wrap: normal; }
tbody tr + tr > * { border-top: 1px solid var(--rule); }
tbody th { font-weight: 600; }
.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
.features .n:first-child { color: var(--soft); width: 2.6rem; }
.group th { padding-top: 1.1rem; border-bottom: 1px solid var(--rule); font-size: .95rem; }
small { color: var(--soft); font-size: .92em; }
.note { color: var(--soft); font-size: .85rem; margin-top: .6rem; }
.verdict { white-space: nowrap; }
.symbol { margin-right: .45em; vertical-align: -1px; overflow: visible; }
.legend { list-style: none; padding: 0; margin: 1rem 0 1.8rem; columns: 2; column-gap: 2rem; font-size: .85rem; }
.legend li { display: flex; align-items: center; gap: .7rem; break-inside: avoid; padding: .12rem 0; }
.legend svg { flex: none; overflow: visible; }
.blocked-list ul { margin: .2rem 0 1.1rem; }
.blocked-list ul, .warnings { padding-left: 1.15rem; max-width: 44rem; }
.blocked-list .symbol { margin-left: 1px; }
.warnings li + li { margin-top: .35rem; }
.cautions { columns: 2; column-gap: 2.5rem; margin-bottom: 1rem; }
.cautions article { break-inside: avoid; padding-bottom: 1rem; font-size: .92rem; }
.cautions ul { padding-left: 1.15rem; margin-top: .3rem; overflow-wrap: anywhere; }
article > .places { padding-left: 1.15rem; margin: .4rem 0 1.1rem; font-size: .8rem; font-variant-numeric: tabular-nums; }
.places li { break-inside: avoid; }
section > article { font-size: .92rem; }
section > article p { max-width: 42rem; }
.steps { list-style: none; padding: 0; margin-top: .7rem; max-width: 44rem; }
.steps li { position: relative; padding: .2rem 0 .2rem 1.9rem; break-inside: avoid; }
.steps li::before { content: ""; position: absolute; left: 0; top: .42rem; width: .9rem; height: .9rem; border: 1.2px solid var(--ink); border-radius: 2px; }
.sign { display: flex; gap: 2rem; margin-top: 3.2rem; max-width: none !important; }
.sign span { flex: 1; border-top: 1px solid var(--ink); padding-top: .3rem; color: var(--soft); font-size: .85rem; }
footer { margin-top: 3rem; color: var(--soft); font-size: .82rem; }
footer p + p { margin-top: .4rem; }

.drawing { display: block; width: 100%; height: auto; font-family: inherit; }
.frame { fill: none; stroke: var(--rule); }
.body { fill-rule: evenodd; stroke-linejoin: round; stroke-width: .8; }
.part { fill: #d3d6da; stroke: #5c6066; }
.fixture { fill: #eceae4; stroke: #8d8779; stroke-dasharray: 3 1.5; }
.surroundings { fill: #f7f7f7; stroke: #c2c5c9; stroke-width: .6; }
.zone { fill: none; stroke: var(--area); stroke-width: .8; stroke-dasharray: 1 3; stroke-linecap: round; }
.walkway { fill: #0072b2; fill-opacity: .07; stroke: var(--area); stroke-width: .8; stroke-dasharray: 7 3; }
.floor { stroke: var(--soft); stroke-width: .8; fill: none; }
.beam { fill: none; stroke-width: .8; stroke-opacity: .75; }
.beam.full { stroke: var(--full); }
.beam.stylus { stroke: var(--stylus); stroke-width: 1.1; stroke-dasharray: 6 3; }
.beam.tie { stroke: #8b9097; stroke-width: .7; stroke-dasharray: 1 3; stroke-linecap: round; }
.mark { stroke: #fff; stroke-width: 1; }
.mark.full { fill: var(--full); }
.mark.stylus { fill: var(--stylus); }
.mark.blocked { fill: none; stroke: var(--blocked); stroke-width: 2.4; }
.halo { fill: none; stroke: #fff; stroke-width: 5; }
.nest { fill: #fff; stroke: var(--ink); stroke-width: 1; }
.dot, .centre { fill: var(--ink); }
.stand { fill: #fff; fill-opacity: .85; stroke: var(--ink); stroke-width: 1; }
.legs { fill: none; stroke: var(--ink); stroke-width: 1.2; stroke-linecap: round; }
.bar, .axis { fill: none; stroke: var(--ink); stroke-width: 1; }
text { fill: var(--ink); font-size: 11px; }
.station-name, .nest-name, .number, .zone-name { paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.station-name { font-size: 13px; font-weight: 650; }
.nest-name, .number { font-size: 9.5px; }
.number { fill: #3c4045; }
.zone-name { fill: var(--area); font-size: 10.5px; }

@media (max-width: 40rem) {
  body { padding: 1.5rem 1rem 3rem; }
  .key { grid-template-columns: 1fr 1fr; }
  .key dt { white-space: normal; }
  .legend, .cautions { columns: 1; }
  table { display: block; overflow-x: auto; }
}
@page { margin: 14mm 14mm 16mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 9.5pt; line-height: 1.4; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  h1 { font-size: 20pt; }
  section { margin-top: 7mm; }
  h2, h3 { break-after: avoid; }
  tr, figure, li { break-inside: avoid; }
  .group { break-after: avoid; }
  th, td { padding-top: .2rem; padding-bottom: .2rem; }
  .group th { padding-top: .7rem; }
  thead { display: table-header-group; }
}
)";
}

}  // namespace standpoint::page
