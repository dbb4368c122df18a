import { colours } from "./draw/colours.ts";

/** The element's own look; its colours can be set from the page. */
export const style = `
:host { display: block; color-scheme: light dark; font: 15px/1.45 system-ui, sans-serif; color: var(--ink);
  ${Object.entries(colours)
    .map(([name, colour]) => `${name}: ${colour};`)
    .join(" ")} }
:host([hidden]) { display: none; }
* { box-sizing: border-box; }
.stage { position: relative; background: var(--paper); border: 1px solid var(--soft); border-radius: .4rem; overflow: hidden;
  height: var(--stage-height, clamp(14rem, 46vh, 30rem)); }
canvas { display: block; width: 100%; height: 100%; touch-action: pan-y; cursor: grab; }
canvas:active { cursor: grabbing; }
canvas.drawing { cursor: crosshair; touch-action: none; }
:focus-visible { outline: 3px solid var(--path); outline-offset: -3px; }
.names { position: absolute; inset: .3rem .6rem auto; display: flex; justify-content: space-between; gap: 1rem;
  color: var(--soft); font-size: .85rem; pointer-events: none; }
.row { display: flex; flex-wrap: wrap; gap: .35rem .8rem; align-items: center; margin: .45rem 0; }
.row label { display: inline-flex; gap: .35rem; align-items: center; font-size: .88rem; min-height: 1.8rem; }
button, select { font: inherit; font-size: .9rem; color: var(--ink); background: var(--paper);
  border: 1px solid var(--soft); border-radius: .3rem; padding: .2rem .6rem; max-width: 100%; min-height: 1.8rem; }
button { cursor: pointer; } #play { min-width: 4.6rem; font-weight: 600; }
input[type=checkbox] { width: 1.1rem; height: 1.1rem; margin: 0; accent-color: var(--path); }
.time { display: flex; flex: 1 1 14rem; gap: .7rem; align-items: center; min-width: 0; }
.time input { flex: 1; min-width: 0; accent-color: var(--path); }
.track { position: relative; flex: 1; min-width: 0; } .track input { width: 100%; margin: 0; display: block; }
.span { height: .35rem; border: 1px solid var(--ink); border-radius: .2rem; position: absolute; top: 100%;
  background: repeating-linear-gradient(45deg, var(--ink) 0 1px, transparent 1px 4px); pointer-events: none; }
output { font-variant-numeric: tabular-nums; white-space: nowrap; }
.said { margin: .3rem 0 0; min-height: 1.45em; font-size: .92rem; overflow-wrap: anywhere; }
.said ul { margin: 0; padding: 0 0 0 1.1rem; } .said button { padding: 0; border: 0; min-height: 0; text-align: left;
  background: none; color: var(--path); text-decoration: underline; }
[role=alert]:empty { display: none; } [hidden] { display: none !important; }
@media print { :host { display: none; } }
`;

/** What stands in the element. */
export const markup = `
<div class="stage"><canvas tabindex="0" role="img"></canvas><div class="names" aria-hidden="true"><span></span><span></span></div></div>
<div class="row">
<button type="button" id="play" aria-pressed="false">Play</button>
<button type="button" id="back">−1 frame</button>
<button type="button" id="on">+1 frame</button>
<span class="time"><span class="track"><input type="range" id="frame" aria-label="Frame" step="1"><span class="span" hidden></span></span><output></output></span>
</div>
<div class="row">
<label>Note <select id="note"></select></label>
<label id="looping" hidden><input type="checkbox" id="loop" checked> only around it</label>
<label id="fixing" hidden>Fix <select id="showing">
<option value="before">as it is</option><option value="after">with the fix</option>
<option value="over">both, one over the other</option><option value="beside">both, side by side</option></select></label>
</div>
<div class="row">
<label>Speed <select id="speed"><option value="1">full</option><option value="0.5">half</option>
<option value="0.25">quarter</option><option value="0.1">tenth</option></select></label>
<label>From <select id="from"></select></label>
<label>Size <input type="range" id="size" min="0.4" max="4" step="0.1" value="1"></label>
<label><input type="checkbox" id="follow"> stay with the figure</label>
<label><input type="checkbox" id="path" checked> path</label>
<label id="drawn" hidden><input type="checkbox" id="strokes" checked> what was drawn</label>
<label id="beneath-it" hidden><input type="checkbox" id="beneath" checked> rendered frames beneath, through the camera</label>
<label id="sounding" hidden><input type="checkbox" id="sound" checked> sound</label>
<label>Frames beside <select id="ghosts"><option value="0">none</option><option value="1">each</option>
<option value="2">every 2nd</option><option value="4">every 4th</option></select></label>
</div>
<div class="said" id="here"></div>
<p class="said" role="alert"></p>
`;
