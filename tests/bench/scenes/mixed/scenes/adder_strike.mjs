// @ts-check
import { names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf, hold, tidy } from "../../creatures/kit/edits.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { track } from "../../people/kit/curve.mjs";

export const name = "adder_strike";
export const about =
  "An adder winds over the sand in its own track, stops, raises its neck, draws it back, strikes, and draws back again; the tail end twitches.";

const END = 132;
const L = 0.055;
const FRONT = 6;
const BACK = 11;
const R = 0.014;
const rows = /** @type {any[]} */ ([["mid", null, [0, R, 0], 0.02, "yxz"]]);
for (let i = 1; i <= FRONT; i++)
  rows.push([`f${i}`, i === 1 ? "mid" : `f${i - 1}`, [0, 0, L], i === FRONT ? 0 : 0.02, "yxz"]);
rows.push(
  ["snout", `f${FRONT}`, [0, 0, 0.035], 0, "yxz"],
  ["jaw", `f${FRONT}`, [0, -0.006, 0.006], 0.002, "yxz"],
  ["chin", "jaw", [0, -0.001, 0.026], 0, "yxz"],
);
for (let i = 1; i <= BACK; i++)
  rows.push([`b${i}`, i === 1 ? "mid" : `b${i - 1}`, [0, 0, -L], i === BACK ? 0 : 0.016, "yxz"]);
const rig = makeRig(rows);
const table = /** @type {Record<string, string>} */ ({
  mid: "trunchi",
  f6: "cap",
  snout: "bot",
  jaw: "falca",
  chin: "barbie",
});
for (let i = 1; i < FRONT; i++) table[`f${i}`] = `gat_${String(i).padStart(2, "0")}`;
for (let i = 1; i <= BACK; i++) table[`b${i}`] = `coada_${String(i).padStart(2, "0")}`;
const n = names(table, "vipera|");

const DEG = 180 / Math.PI;
/** The track over the sand by its length. @param {number} s */
const line = (s) => [0.085 * Math.sin(s * 10.5) + 0.02 * Math.sin(s * 2.3), s * 0.84];
/** @param {number} s */
const heading = (s) => {
  const [a, b] = [line(s - L / 2), line(s + L / 2)];
  return Math.atan2(b[0] - a[0], b[1] - a[1]) * DEG;
};

/** @param {boolean} bad */
function build(bad) {
  const go = track({
    1: { v: 0, s: 0.0125 },
    20: { v: 0.245, s: 0.0135 },
    44: { v: 0.56, s: 0.012 },
    66: { v: 0.71, s: 0 },
    [END]: 0.71,
  });
  const raise = track({ 1: 0, 58: 0, 74: 1, 78: 0.96, 124: 0.95, [END]: 0.95 });
  const calm = track({ 1: 0, 50: 0, 70: 1, [END]: 1 });
  const draw = bad
    ? track({ 1: 0, 96: 0, 101: 0, [END]: 0 })
    : track({ 1: 0, 82: 0, 94: 1, 97: 1.04, 100: 0, 108: 0, 116: 0.5, 124: 0.4, [END]: 0.42 });
  const strike = bad
    ? track({
        1: 0,
        97: { v: 0, s: 0 },
        100: { v: 1, in: 0.4, out: 0 },
        112: { v: 1, s: 0 },
        124: 0,
        [END]: 0,
      })
    : track({
        1: 0,
        97: { v: 0, s: 0 },
        100: { v: 0.98, s: 0.1 },
        102: 1.06,
        106: 0.75,
        114: -0.08,
        121: 0,
        [END]: 0,
      });
  const gape = track({ 1: 0, 94: 0, 99: 1, 102: 1, 106: 0.25, 112: 0, [END]: 0 });
  const twitch = track({ 1: 0, 70: 0, 76: 1, 118: 1, 126: 0.4, [END]: 0.3 });
  const take = perform(rig, [1, END], (p, f) => {
    const s = go(f);
    const [x, z] = line(s);
    const sunk = bad ? 0.011 * track({ 1: 0, 24: 0, 30: 1, 42: 1, 48: 0, [END]: 0 })(f) : 0;
    p.move("mid", x, R - sunk, z);
    const base = heading(s - L / 2);
    p.rot("mid", 0, base, 0);
    const up = raise(f);
    const d = draw(f);
    const k = strike(f);
    // World pitch of the neck's pieces: raised in an S, drawn back, and stretched out.
    const still = [0, -20, -58, -62, -34, 4];
    const back = [0, -26, -86, -104, -30, 12];
    const out = [0, -8, -22, -24, -14, -4];
    const sway = 4 * Math.sin(f / 8) * up * (1 - Math.abs(k));
    let was = 0;
    let yaw = base;
    for (let i = 1; i <= FRONT; i++) {
      const c = Math.max(0, Math.min(1, up)) * 1;
      let pitch = still[i - 1] * up + (back[i - 1] - still[i - 1]) * d;
      pitch += (out[i - 1] - still[i - 1]) * k;
      const free = heading(s + (i - 0.5) * L);
      // Raised, it faces what it watches, and is drawn back in a bow to the side.
      const watch = 8 + [0, 14, 20, -18, -26, 0][i - 1] * (0.5 + 0.7 * d) * (1 - Math.max(0, k)) + sway;
      const aim = free + (watch - free) * c * (i === 1 ? 0.35 : 1);
      p.rot(`f${i}`, pitch - was, aim - yaw, 0);
      was = pitch;
      yaw = aim;
    }
    p.rot("jaw", 38 * gape(f), 0, 0);
    yaw = base;
    for (let i = 1; i < BACK; i++) {
      const free = heading(s - (i + 0.5) * L);
      const end = Math.max(0, i - (BACK - 5)) / 4;
      const t = 13 * end * twitch(f - i) * Math.sin((f - 1.4 * i) / 2.6) * calm(f);
      p.rot(`b${i}`, 0, free - yaw + t, 0);
      yaw = free;
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    up: "z",
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.25, place: 0.0004 }) }],
    more: {
      figures: [
        {
          id: "vipera",
          stature: 0.95,
          parts: { root: n("mid"), head: n("f6") },
          limbs: [
            { id: "coada", kind: "tail", nodes: Array.from({ length: BACK }, (_, i) => n(`b${i + 1}`)) },
            { id: "gat", kind: "neck", nodes: [1, 2, 3, 4, 5, 6].map((i) => n(`f${i}`)) },
          ],
        },
      ],
      propulsors: [{ figure: "vipera", nodes: [2, 4, 6, 8].map((i) => n(`b${i}`)), channel: "rotation.y" }],
      surfaces: [{ id: "nisip", normal: [0, 0, 1], height: 0 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  const bodies = rig.joints.map((j) => j.id).filter((id) => id !== "jaw");
  // The wave was not keyed on, the root was.
  hold(curvesOf(doc, bodies.map(n), "rotation"), [8, 24]);
  // The end of the tail has lost its curves.
  for (const c of curvesOf(
    doc,
    [7, 8, 9, 10].map((i) => n(`b${i}`)),
    "rotation",
  )) {
    const first = c.keys.filter((/** @type {any} */ k) => k[0] <= 68);
    c.keys = first;
    if (first.length && first[first.length - 1][2]) delete first[first.length - 1][2].out;
  }
  return tidy(doc);
}
export const flaws = [
  {
    what: "It slides over the sand like a bent wire: the wave stands still while the snake goes on.",
    kind: "motion without drive",
    size: "strong",
    nodes: ["mid", "f2", "f4", "b2", "b4", "b6", "b8", "b10"].map(n),
    frames: [8, 26],
    order: 1,
  },
  {
    what: "The strike comes from nowhere, the neck is not drawn back first.",
    kind: "no anticipation",
    size: "ordinary",
    nodes: ["f2", "f3", "f4", "f5", "f6"].map(n),
    frames: [82, 100],
    order: 2,
  },
  {
    what: "At its farthest the head stops as if against glass, and stays there for half a second.",
    kind: "stop too hard",
    size: "ordinary",
    nodes: ["f3", "f4", "f5", "f6"].map(n),
    frames: [99, 112],
    order: 3,
  },
  {
    what: "The tail end lies dead while the front strikes; it had twitched, that has been lost.",
    kind: "tail dead",
    size: "ordinary",
    nodes: [7, 8, 9, 10, 11].map((i) => n(`b${i}`)),
    frames: [70, 132],
    order: 4,
  },
  {
    what: "Between 26 and 46 the belly is a centimetre deep in the sand.",
    kind: "things go through things",
    size: "barely",
    nodes: ["mid", "f1", "b1", "b4", "b8"].map(n),
    frames: [26, 46],
    order: 5,
  },
];
export const truth = {
  plants: ["mid", "f1", "b1", "b4"].map((id) => ({
    node: n(id),
    frames: /** @type {[number, number]} */ ([82, END]),
  })),
  ground: { nodes: rig.joints.map((j) => n(j.id)), height: 0, under: 0.002 },
  spikes: { except: /** @type {[number, number][]} */ ([[94, 108]]) },
};
