/*
 * What all pages share: ink on paper, by day and by night and in print. Nothing is told by colour alone: tiers are named,
 * or differ in filling; what was and what will be in solid and dashed.
 */

export const colours = `
:root {
  color-scheme: light dark;
  --paper: #fcfbf8; --card: #fff; --ink: #1f2427; --soft: #565f66; --line: #d5d2c8; --faint: #ebe8df;
  --path: #1d5578; --after: #6b3fa0; --pen: #0a6b5e; --flesh: #e3dfd4; --dark: #55493a;
  --broken: #7d1d6b; --major: #a12a17; --minor: #7a5606; --polish: #3c5f37; --on: #fff;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #16181a; --card: #1d2022; --ink: #e9e7e1; --soft: #a5aeb4; --line: #3b4145; --faint: #2a2e31;
    --path: #8cc4e6; --after: #c9a7f2; --pen: #6fd6c2; --flesh: #3d4347; --dark: #c9b99f;
    --broken: #e79ad6; --major: #f49480; --minor: #e2b65c; --polish: #9dcb93; --on: #16181a;
  }
}
`.trim();

export const printColours = `
:root {
  --paper: #fff; --card: #fff; --ink: #000; --soft: #3d3d3d; --line: #aaa; --faint: #ddd; --path: #123f5c; --after: #4b2385;
  --pen: #064c43;
  --flesh: #e4e1da; --dark: #3f3528; --broken: #5b1150; --major: #7c1a0a; --minor: #553c00; --polish: #243f20; --on: #fff;
}
`.trim();

/** Text, links, what is in focus, pictures. */
export const basics = `
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 system-ui, sans-serif; }
a { color: var(--path); }
:focus-visible { outline: 3px solid var(--path); outline-offset: 2px; }
.skip { position: absolute; left: -99rem; } .skip:focus { position: static; }
:not(svg) > svg { display: block; width: 100%; height: auto; overflow: hidden; }
svg text { font: 12px system-ui, sans-serif; fill: var(--ink); }
figure { margin: 0; }
.wide { overflow-x: auto; }
figcaption, .quiet { color: var(--soft); font-size: .88rem; }
`.trim();

/** Tiers, and what is drawn of a shot: figures in their poses, paths, numbers over time, the strip. */
export const drawings = `
.broken { --tier: var(--broken); } .major { --tier: var(--major); } .minor { --tier: var(--minor); } .polish { --tier: var(--polish); }
.rim, .flesh { fill: none; stroke-linecap: round; stroke-linejoin: round; }
.rim { stroke: var(--ink); } .flesh { stroke: var(--flesh); } .flesh.dark { stroke: var(--dark); }
.thing { fill: var(--line); fill-opacity: .4; stroke: var(--soft); stroke-width: 1; stroke-linejoin: round; }
.thing.set { fill: none; stroke: var(--line); }
.edge { fill: none; stroke: var(--soft); stroke-width: .8; stroke-linejoin: round; }
.fixed-thing { fill: none; stroke: var(--after); stroke-width: 1.6; stroke-dasharray: 5 3; }
.drawn { fill: none; stroke: var(--pen); stroke-width: 3; stroke-linecap: round; stroke-linejoin: round; }
.drawn.target { stroke-dasharray: 9 6; }
.drawn-rim { fill: none; stroke: var(--card); stroke-width: 6; stroke-linecap: round; stroke-linejoin: round; }
.fixed-bones { fill: none; stroke: var(--after); stroke-width: 2; stroke-dasharray: 5 3; stroke-linecap: round; }
.squint { fill: none; stroke: var(--ink); stroke-linecap: round; stroke-linejoin: round; } .squint-box { fill: var(--ink); }
.squint.behind { stroke: var(--line); } .squint-box.behind { fill: var(--line); }
.squint-edge { fill: none; stroke: var(--soft); stroke-width: 5; } .squint-ground { fill: var(--faint); }
.squint-beyond { fill: var(--card); } .squint-frame { fill: none; stroke: var(--soft); stroke-width: 3; }
.ground, .axis { stroke: var(--soft); stroke-width: 1; }
svg .number { fill: var(--soft); font-variant-numeric: tabular-nums; paint-order: stroke; stroke: var(--card); stroke-width: 3px; }
svg .number.noted { fill: var(--ink); font-weight: 700; }
.noted-bar { fill: none; stroke: var(--ink); stroke-width: 2.5; }
.tier-name { color: var(--tier); font-weight: 600; }
.ghost { opacity: .35; } .ghost .rim { stroke: var(--soft); }
.locator-box { fill: var(--card); stroke: var(--line); } .ring { fill: none; stroke: var(--major); stroke-width: 2.5; }
.trail { fill: none; stroke: var(--path); stroke-width: 1.5; stroke-linejoin: round; }
.trail.noted { stroke-width: 4.5; stroke-linecap: round; }
.trail.second { stroke-width: 1; stroke: var(--soft); } .second-dot { fill: var(--soft); }
.trail.fixed, .graph.fixed { stroke: var(--after); stroke-width: 2; stroke-dasharray: 6 4; }
.fixed-dot { fill: var(--card); stroke: var(--after); stroke-width: 1.6; }
.path .tick, svg .tick { stroke: var(--path); stroke-width: 1.1; } svg .tick.noted { stroke-width: 2; stroke: var(--ink); }
.arrow, .scale { fill: none; stroke: var(--path); stroke-width: 1.5; } .scale { stroke: var(--soft); }
.key { fill: var(--card); stroke: var(--ink); stroke-width: 1.8; }
.frame { fill: none; stroke: var(--soft); stroke-width: 1.2; }
.rule { stroke: var(--faint); stroke-width: 1; }
svg .name { font-weight: 600; }
.graph { fill: none; stroke: var(--path); stroke-width: 1.8; stroke-linejoin: round; }
.noted-band { fill: url(#hatch); } .noted-edge { fill: none; stroke: var(--ink); stroke-width: 1; stroke-dasharray: 2 2; }
.hatch-line { stroke: var(--soft); stroke-width: 1; opacity: .55; }
.bar .span { fill: var(--tier); stroke: var(--tier); stroke-width: 1.2; }
.bar.minor .span { fill-opacity: .35; } .bar.polish .span { fill: none; stroke-dasharray: 3 2; }
.bar circle { fill: var(--paper); stroke: var(--tier); stroke-width: 1.8; }
.bar.major circle, .bar.broken circle { fill: var(--tier); } .bar.polish circle { stroke-dasharray: 3 2; }
svg .bar text { font-size: 12px; font-weight: 700; fill: var(--tier); }
svg .bar.major text, svg .bar.broken text { fill: var(--on); }
.strip .number { stroke: var(--paper); }
.mark { width: 2.2rem; height: 1rem; display: inline-block; vertical-align: -.15rem; margin-right: .35rem; }
.hidden-defs { position: absolute; width: 0; height: 0; }
`.trim();
