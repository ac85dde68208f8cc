#include "io/write/sheet/page_parts.h"

namespace standpoint::page {

// Verdict colours are from the palette of Okabe and Ito ("Color Universal Design", 2008), chosen to
// be told apart with any common colour vision; shape, dash pattern and word say the same.
std::string style() {
  return R"(.sheet {
  --ink: #1b1c1e; --soft: #5c6066; --rule: #d5d7da; --wash: #f4f5f6;
  --full: #009e73; --stylus: #e69f00; --blocked: #d55e00; --area: #0072b2;
}
.sheet, .sheet * { box-sizing: border-box; }
.sheet {
  color-scheme: light; -webkit-text-size-adjust: 100%;
  margin: 0 auto; padding: 3rem 1.5rem 4rem; max-width: 52rem; background: #fff; color: var(--ink);
  font: 15px/1.5 system-ui, -apple-system, "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif;
}
.sheet h1, .sheet h2, .sheet h3, .sheet p, .sheet ul, .sheet dl, .sheet figure { margin: 0; }
.sheet h1 { font-size: 2rem; line-height: 1.15; font-weight: 650; letter-spacing: -.015em; overflow-wrap: anywhere; }
.sheet h2 { font-size: 1.1rem; line-height: 1.3; font-weight: 650; margin-bottom: .9rem; }
.sheet h3 { font-size: .95rem; font-weight: 650; overflow-wrap: anywhere; }
.sheet h2 span, .sheet h3 span { color: var(--soft); font-weight: 400; margin-left: .35em; }
.sheet .kind { color: var(--soft); margin-bottom: .25rem; }
.sheet .lede { max-width: 42rem; color: var(--soft); }
.sheet .key { display: grid; grid-template-columns: repeat(4, auto); justify-content: space-between; gap: 1rem 1.5rem; margin: 1.6rem 0 1.2rem; }
.sheet .key div { display: flex; flex-direction: column; }
.sheet .key dd { margin: 0; font-size: 1.5rem; line-height: 1.2; font-weight: 600; font-variant-numeric: tabular-nums; }
.sheet .key dt { order: 2; color: var(--soft); font-size: .85rem; }
.sheet section { margin-top: 2.75rem; padding-top: 1.1rem; border-top: 1px solid var(--ink); }
.sheet section > p { max-width: 42rem; }
.sheet table { width: 100%; border-collapse: collapse; font-size: .87rem; line-height: 1.4; }
.sheet figure + figure { margin-top: 1.2rem; }
.sheet figcaption { color: var(--soft); font-size: .85rem; margin-top: .2rem; }
.sheet th, .sheet td { text-align: left; vertical-align: top; padding: .36rem .9rem .36rem 0; unicode-bidi: isolate; overflow-wrap: break-word; }
.sheet .long { overflow-wrap: anywhere; }
.sheet th:last-child, .sheet td:last-child { padding-right: 0; }
.sheet thead th { font-weight: 500; color: var(--soft); vertical-align: bottom; border-bottom: 1px solid var(--ink); overflow-wrap: normal; }
.sheet tbody tr + tr > * { border-top: 1px solid var(--rule); }
.sheet tbody th { font-weight: 600; }
.sheet .n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
.sheet small { color: var(--soft); font-size: .92em; }
.sheet .note { color: var(--soft); font-size: .85rem; margin-top: .6rem; }
.sheet .verdict { white-space: nowrap; }
.sheet .symbol { margin-right: .45em; vertical-align: -1px; overflow: visible; }
.sheet .legend { list-style: none; padding: 0; margin: 1rem 0 1.8rem; columns: 2; column-gap: 2rem; font-size: .85rem; }
.sheet .legend li { display: flex; align-items: center; gap: .7rem; break-inside: avoid; padding: .12rem 0; }
.sheet .legend svg { flex: none; overflow: visible; }
.sheet .blocked-list ul { margin: .2rem 0 1.1rem; }
.sheet .blocked-list ul, .sheet .warnings { padding-left: 1.15rem; max-width: 44rem; }
.sheet .blocked-list .symbol { margin-left: 1px; }
.sheet .warnings li + li { margin-top: .35rem; }
.sheet .cautions { columns: 2; column-gap: 2.5rem; margin-bottom: 1rem; }
.sheet .cautions article { break-inside: avoid; padding-bottom: 1rem; font-size: .92rem; }
.sheet .cautions ul { padding-left: 1.15rem; margin-top: .3rem; overflow-wrap: anywhere; }
.sheet article > .places { padding-left: 1.15rem; margin: .4rem 0 1.1rem; font-size: .8rem; font-variant-numeric: tabular-nums; }
.sheet .places li { break-inside: avoid; }
.sheet section > article { font-size: .92rem; }
.sheet section > article p { max-width: 42rem; }
.sheet .steps { list-style: none; padding: 0; margin-top: .7rem; max-width: 44rem; }
.sheet .steps li { position: relative; padding: .2rem 0 .2rem 1.9rem; break-inside: avoid; }
.sheet .steps li::before { content: ""; position: absolute; left: 0; top: .42rem; width: .9rem; height: .9rem; border: 1.2px solid var(--ink); border-radius: 2px; }
.sheet .sign { display: flex; gap: 2rem; margin-top: 3.2rem; max-width: none !important; }
.sheet .sign span { flex: 1; border-top: 1px solid var(--ink); padding-top: .3rem; color: var(--soft); font-size: .85rem; }
.sheet footer { margin-top: 3rem; color: var(--soft); font-size: .82rem; }
.sheet footer p + p { margin-top: .4rem; }
.sheet-ground path { vector-effect: non-scaling-stroke; }
.sheet .moved-notice { border: 2px solid var(--ink); padding: .6rem .9rem; margin-bottom: 1.2rem; font-weight: 600; }
.sheet .moved-notice[hidden] { display: none; }

.sheet h4 { margin: 0; font-size: .92rem; font-weight: 650; overflow-wrap: anywhere; }
.sheet .station h2 { font-size: 1.5rem; margin-bottom: .2rem; overflow-wrap: anywhere; }
.sheet .station > h3 { margin: 1.5rem 0 .5rem; font-size: 1.02rem; }
.sheet .station .steps { margin-top: .3rem; max-width: none; }
.sheet .place { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1.25fr); gap: 1.5rem; align-items: start; margin-bottom: .6rem; }
.sheet .fill { display: inline-block; min-width: 7rem; margin: 0 .1rem 0 .4rem; border-bottom: 1px solid var(--ink); color: var(--soft); font-size: .85em; }
.sheet .care { columns: 2; column-gap: 2rem; font-size: .87rem; }
.sheet .care article { break-inside: avoid; padding-bottom: .45rem; }
.sheet .care ul { padding-left: 1.15rem; overflow-wrap: anywhere; }
.sheet .turn { margin: .9rem 0 .5rem; padding-left: .8rem; border-left: 1px solid var(--rule); }
.sheet .turn.change { border: 2px solid var(--ink); padding: .6rem .8rem; }
.sheet .turn dl { display: flex; flex-wrap: wrap; gap: .25rem 1.6rem; margin-top: .35rem; font-size: .87rem; }
.sheet .turn dt { color: var(--soft); }
.sheet .turn dd { margin: 0; font-weight: 600; }
.sheet .turn .shift { margin-top: .4rem; font-weight: 600; }
.sheet .turn .steps { display: flex; flex-wrap: wrap; gap: 0 1.6rem; font-size: .87rem; }
.sheet .with th { padding-top: .5rem; font-weight: 650; color: var(--ink); border: 0; overflow-wrap: anywhere; }
.sheet .blank { border-left: 1px solid var(--rule); }
.sheet .blank + td { border-left: 1px solid var(--rule); padding-left: .5rem; }
.sheet .reading { width: 19%; }
.sheet .difference { width: 9%; }
.sheet .readings td, .sheet .readings tbody th { height: 2.1rem; }
.sheet .features { table-layout: fixed; }
.sheet .features col:nth-child(1) { width: 5%; }
.sheet .features col:nth-child(2) { width: 38%; }
.sheet .features col:nth-child(3) { width: 9%; }
.sheet .features col:nth-child(4) { width: 8%; }
.sheet .features col:nth-child(5), .sheet .features col:nth-child(6) { width: 7%; }
.sheet .features col:nth-child(8) { width: 5%; }
.sheet .features td:first-child { color: var(--soft); }
.sheet .done { text-align: right; }
.sheet .done i { display: inline-block; width: .9rem; height: .9rem; margin-top: .15rem; border: 1.2px solid var(--ink); border-radius: 2px; }
.sheet .marks th[scope=row] { width: 2.5rem; }

.sheet .drawing { display: block; width: 100%; height: auto; font-family: inherit; }
.sheet .frame { fill: none; stroke: var(--rule); }
:is(.sheet, .sheet-ground) .body { fill-rule: evenodd; stroke-linejoin: round; stroke-width: .8; }
:is(.sheet, .sheet-ground) .part { fill: #d3d6da; stroke: #5c6066; }
:is(.sheet, .sheet-ground) .fixture { fill: #eceae4; stroke: #8d8779; stroke-dasharray: 3 1.5; }
:is(.sheet, .sheet-ground) .surroundings { fill: #f7f7f7; stroke: #c2c5c9; stroke-width: .6; }
:is(.sheet, .sheet-ground) .zone { fill: none; stroke: var(--area); stroke-width: .8; stroke-dasharray: 1 3; stroke-linecap: round; }
:is(.sheet, .sheet-ground) .keep-out { fill: none; stroke: var(--blocked); stroke-width: .8; }
:is(.sheet, .sheet-ground) .walkway { fill: #0072b2; fill-opacity: .07; stroke: var(--area); stroke-width: .8; stroke-dasharray: 7 3; }
:is(.sheet, .sheet-ground) .floor { stroke: var(--soft); stroke-width: .8; fill: none; }
.sheet .beam { fill: none; stroke-width: .8; stroke-opacity: .75; }
.sheet .beam.full { stroke: var(--full); }
.sheet .beam.stylus { stroke: var(--stylus); stroke-width: 1.1; stroke-dasharray: 6 3; }
.sheet .beam.tie { stroke: #8b9097; stroke-width: .7; stroke-dasharray: 1 3; stroke-linecap: round; }
.sheet .mark { stroke: #fff; stroke-width: 1; }
.sheet .mark.full { fill: var(--full); }
.sheet .mark.stylus { fill: var(--stylus); }
.sheet .mark.blocked { fill: none; stroke: var(--blocked); stroke-width: 2.4; }
.sheet .mark.unjudged { fill: var(--ink); }
.sheet .halo { fill: none; stroke: #fff; stroke-width: 5; }
.sheet .nest { fill: #fff; stroke: var(--ink); stroke-width: 1; }
.sheet .dot, .sheet .centre { fill: var(--ink); }
.sheet .stand { fill: #fff; fill-opacity: .85; stroke: var(--ink); stroke-width: 1; }
.sheet .legs { fill: none; stroke: var(--ink); stroke-width: 1.2; stroke-linecap: round; }
.sheet .dimension { fill: none; stroke: var(--ink); stroke-width: .8; }
.sheet .landmark { fill: none; stroke: var(--ink); stroke-width: 1.1; }
.sheet .figure { paint-order: stroke; stroke: #fff; stroke-width: 4px; stroke-linejoin: round; font-variant-numeric: tabular-nums; }
.sheet .bar, .sheet .axis { fill: none; stroke: var(--ink); stroke-width: 1; }
.sheet text { fill: var(--ink); font-size: 11px; }
.sheet .station-name, .sheet .nest-name, .sheet .number, .sheet .zone-name { paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.sheet .station-name { font-size: 13px; font-weight: 650; }
.sheet .nest-name, .sheet .number { font-size: 9.5px; }
.sheet .number { fill: #3c4045; }
.sheet .zone-name { fill: var(--area); font-size: 10.5px; }

@media (max-width: 40rem) {
  .sheet { padding: 1.5rem 1rem 3rem; }
  .sheet .key { grid-template-columns: 1fr 1fr; }
  .sheet .legend, .sheet .cautions, .sheet .care { columns: 1; }
  .sheet .place { grid-template-columns: 1fr; }
  .sheet .features { table-layout: auto; }
  .sheet .features td:nth-child(2) { min-width: 11rem; }
  .sheet .actual { min-width: 9rem; }
  .sheet table { display: block; overflow-x: auto; }
}
@page { margin: 14mm 14mm 16mm; }
@page { @bottom-right { content: counter(page) " / " counter(pages); font: 8pt sans-serif; } }
@media print {
  .sheet { padding: 0; max-width: none; font-size: 9.5pt; line-height: 1.4; -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  .sheet h1 { font-size: 20pt; }
  .sheet .station h2 { font-size: 16pt; }
  .sheet .station > h3 { margin: 4.5mm 0 1.5mm; }
  .sheet table, .sheet .care, .sheet .turn dl, .sheet .turn .steps { font-size: 8.5pt; }
  .sheet .note, .sheet figcaption { font-size: 8pt; }
  .sheet .features td { height: 8mm; }
  .sheet .readings td { height: 7mm; }
  .sheet .turn { margin: 3mm 0 1mm; }
  .sheet .sign { margin-top: 9mm; break-before: avoid; }
  .sheet section { margin-top: 7mm; }
  .sheet h2, .sheet h3 { break-after: avoid; }
  .sheet tr, .sheet figure, .sheet li, .sheet .turn, .sheet .sign, .sheet .place { break-inside: avoid; }
  .sheet .station { break-before: page; margin-top: 0; padding-top: 0; border-top: 0; }
  .sheet .turn, .sheet h4 { break-after: avoid; }
  .sheet th, .sheet td { padding-top: .2rem; padding-bottom: .2rem; }
  .sheet thead { display: table-header-group; }
}
)";
}

}  // namespace standpoint::page
