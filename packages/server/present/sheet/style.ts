import { basics, colours, drawings, printColours } from "../look/look.ts";
import { shotCardsStyle } from "../look/shot-cards.ts";

/**
 * The sheet's look: ink on paper, by day and by night and in print. Nothing is told by colour alone: tiers differ in
 * filling, what was and what will be in solid and dashed.
 */
export const style = `
${colours}
${basics}
${shotCardsStyle}
[hidden] { display: none !important; }
main { max-width: 70rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
h1 { font-size: 1.9rem; line-height: 1.15; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 1.2rem; margin: 2.2rem 0 .6rem; }
h3 { font-size: 1.12rem; line-height: 1.25; margin: 0; }
p { margin: .2rem 0; }
code { font: .9em ui-monospace, monospace; overflow-wrap: anywhere; }
button { font: inherit; font-size: .9rem; color: var(--ink); background: var(--card); border: 1px solid var(--soft);
  border-radius: .3rem; padding: .15rem .6rem; cursor: pointer; }
.issue { font-size: 1.2rem; font-weight: 400; color: var(--soft); }
.facts, .counts { margin: .15rem 0; }
.counts { font-weight: 600; }
.strip { margin: 1.1rem 0 .2rem; overflow-x: auto; }
.strip svg { min-width: 44rem; }
.bar-of-tools { display: flex; flex-wrap: wrap; gap: .4rem .8rem; align-items: center; margin: .8rem 0; }
#said { flex-basis: 100%; min-height: 1.4em; }
.legend { display: flex; flex-wrap: wrap; gap: .1rem 1.1rem; align-items: center; }

/* notes */
.notes { list-style: none; margin: 0; padding: 0; }
.note { background: var(--card); border: 1px solid var(--line); border-left: .35rem solid var(--tier); border-radius: .4rem;
  margin: 0 0 1rem; padding: .8rem 1rem 1rem; scroll-margin: .8rem; }
.note.minor { border-left-style: double; } .note.polish { border-left-style: dotted; }
.note:target { border-color: var(--tier); }
.note:has(.tick input:checked) { background: var(--paper); }
.note:has(.tick input:checked) h3 { text-decoration: line-through; text-decoration-thickness: 1px; }
.hides-ticked .note:has(.tick input:checked) { display: none; }
.remark { --tier: var(--pen); background: var(--card); border: 1px solid var(--line); border-left: .35rem solid var(--pen);
  border-radius: .4rem 1rem 1rem .4rem; margin: 0 0 1rem; padding: .8rem 1rem 1rem; scroll-margin: .8rem; }
.remark.keep { border-left-style: dotted; } .remark.is-done { border-left-color: var(--line); }
.remark .message { white-space: pre-line; } .said dd + dd { grid-column: 2; }
.head { display: flex; flex-wrap: wrap; gap: .25rem .8rem; align-items: center; margin-bottom: .35rem; }
.head h3 { flex: 1 1 12rem; }
.tick { display: inline-flex; align-items: center; gap: .4rem; min-height: 1.75rem; cursor: pointer; }
.tick input { width: 1.35rem; height: 1.35rem; margin: 0; accent-color: var(--path); }
.number-chip { display: inline-block; min-width: 1.7em; padding: 0 .35em; text-align: center; border: 2px solid var(--tier);
  border-radius: 1rem; font-weight: 700; color: var(--tier); }
.major .number-chip, .broken .number-chip { background: var(--tier); color: var(--on); }
.polish .number-chip { border-style: dashed; }
.where { font-weight: 400; color: var(--soft); }
.status { border: 1px solid var(--soft); border-radius: .3rem; padding: 0 .4rem; font-size: .88rem; }
.said { display: grid; grid-template-columns: max-content 1fr; gap: .15rem .8rem; margin: .4rem 0 0; }
.said dt { color: var(--soft); } .said dd { margin: 0; overflow-wrap: anywhere; }
.tried { display: block; border-left: 3px dashed var(--after); padding-left: .6rem; margin-top: .15rem; }
.message { font-size: 1.06rem; }
.pictures { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: .6rem 1.4rem; margin-top: .7rem; }
.pictures figure { min-width: 0; }
.pictures .path { grid-row: span 2; }
.strengths { margin: 0; padding-left: 1.4rem; } .strengths li { margin: .3rem 0; overflow-wrap: anywhere; }
.plain { border-collapse: collapse; width: 100%; }
.plain th, .plain td { text-align: left; vertical-align: top; padding: .3rem .8rem .3rem 0; border-bottom: 1px solid var(--line); }
.plain thead th { color: var(--soft); font-weight: 600; }
.caution { margin-top: 2rem; }
@media (max-width: 46rem) {
  main { padding: 1rem .8rem 2rem; }
  .pictures { grid-template-columns: minmax(0, 1fr); }
  .said { grid-template-columns: 1fr; gap: 0; } .said dd { margin-bottom: .35rem; }
}

/* drawings */
${drawings}

@media print {
  @page { size: A4; margin: 14mm 13mm; }
  ${printColours}
  * { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  body { font-size: 9pt; line-height: 1.32; }
  figcaption, .quiet { font-size: 7.5pt; line-height: 1.25; } .message { font-size: 10pt; } .issue { font-size: 12pt; }
  main { max-width: none; padding: 0; }
  h1 { font-size: 19pt; } h2 { font-size: 12pt; margin: 11pt 0 4pt; break-after: avoid; } h3 { font-size: 11pt; }
  p { margin: 1pt 0; } .head { margin-bottom: 1pt; } .said { gap: 0 8pt; margin-top: 2pt; }
  .bar-of-tools, .skip, .copy, .play, .in-motion { display: none !important; }
  .note, .remark { break-inside: avoid; margin-bottom: 7pt; padding: 5pt 8pt 5pt; }
  .hides-ticked .note:has(.tick input:checked) { display: block; }
  .strip, .wide { overflow: visible; } .strip svg { min-width: 0; }
  .pictures { grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 3pt 12pt; margin-top: 4pt; }
  .said { grid-template-columns: max-content 1fr; }
  .tick input { appearance: none; border: 1.5pt solid #000; width: 13pt; height: 13pt; border-radius: 2pt; }
  .tick input:checked { background: linear-gradient(45deg, transparent 44%, #000 44% 56%, transparent 56%),
    linear-gradient(-45deg, transparent 44%, #000 44% 56%, transparent 56%); }
  .tick span { display: none; }
  a { color: inherit; text-decoration: none; }
  .plain tr { break-inside: avoid; }
}
`;
