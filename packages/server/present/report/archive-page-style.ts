import { basics, colours, drawings, printColours } from "../look/look.ts";
import { shotCardsStyle } from "../look/shot-cards.ts";

/** Look of the archive page: plain ink and paper, by day and by night and in print; no tier is told by colour alone. */
export const archivePageStyle = `
${colours}
${basics}
${drawings}
${shotCardsStyle}
main { max-width: 76rem; margin: 0 auto; padding: 1.4rem 1.2rem 3rem; }
h1 { font-size: 1.8rem; line-height: 1.2; margin: 0 0 .3rem; }
h2 { font-size: 1.2rem; margin: 2.4rem 0 .5rem; }
p { margin: .25rem 0; max-width: 60rem; }
nav ul { display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; list-style: none; margin: .6rem 0 0; padding: 0; }
.facts { display: flex; flex-wrap: wrap; gap: .6rem 2.2rem; margin: 1.1rem 0 0; }
.facts div { display: flex; flex-direction: column-reverse; }
.facts dt { color: var(--soft); font-size: .9rem; } .facts dd { margin: 0; font-size: 1.5rem; font-weight: 650; }
.facts dd, td.n, th.n { font-variant-numeric: tabular-nums; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .35rem 1rem .35rem 0; border-bottom: 1px solid var(--line); }
thead th { color: var(--soft); font-weight: 600; font-size: .9rem; white-space: nowrap; }
tbody th { font-weight: 600; overflow-wrap: anywhere; min-width: 9rem; }
td.n, th.n { text-align: right; white-space: nowrap; }
td .quiet, .file { display: block; overflow-wrap: anywhere; } .file { font-weight: 400; min-width: 14rem; }
td.said { min-width: 16rem; }
.zero { color: var(--soft); }
.share { min-width: 8rem; width: 20%; }
.share svg { display: block; width: 100%; height: .9rem; margin-top: .3rem; }
.share rect.all { fill: none; stroke: var(--line); } .share rect.part { fill: var(--path); }
.tier { font-weight: 650; color: var(--tier); }
section > figure { margin-top: .4rem; }
.trend { display: block; width: 100%; max-width: 60rem; height: auto; }
.trend text { font: 13px system-ui, sans-serif; fill: var(--soft); }
.trend .name { fill: var(--ink); font-weight: 600; }
.trend path { fill: none; stroke-width: 2; } .trend .all { stroke: var(--path); }
.trend .heavy { stroke: var(--major); stroke-dasharray: 7 4; }
.trend circle { stroke: var(--paper); } .trend circle.all { fill: var(--path); } .trend rect.heavy { fill: var(--major); stroke: none; }
.trend line { stroke: var(--line); }
summary { cursor: pointer; padding: .2rem 0; }
@media print {
  ${printColours}
  body { font-size: 10pt; } main { max-width: none; padding: 0; } nav, .skip { display: none; }
  .wide { overflow: visible; } tr, figure { break-inside: avoid; } h2 { break-after: avoid; }
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`;
