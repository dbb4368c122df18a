// @ts-check
import { masses } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { curvesOf, drop, straight, tidy } from "../../creatures/kit/edits.mjs";
import { turn } from "../../creatures/kit/math.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { retime } from "../kit/edits.mjs";

export const name = "seal_banks";
export const about =
  "Under water: a seal swims with strokes of its hind flippers, stops beating, banks into a long turn to its left and glides.";

const FPS = 24;
const END = 120;
const DEEP = -2;
const PERIOD = 22;
const rig = makeRig([
  ["trunk", null, [0, DEEP, 0], 45, "yxz"],
  ["chest", "trunk", [0, 0.01, 0.28], 30],
  ["neck", "chest", [0, 0.03, 0.24], 8],
  ["head", "neck", [0, 0.02, 0.17], 5],
  ["snout", "head", [0, -0.02, 0.14], 0],
  ["loin", "trunk", [0, -0.01, -0.24], 18],
  ["rump", "loin", [0, -0.01, -0.22], 8],
  ...bothSides([
    ["fore*", "chest", [0.15, -0.09, 0.02], 2, "yxz"],
    ["foreTip*", "fore*", [0.19, -0.02, -0.08], 0.6, "yxz"],
    ["foreEnd*", "foreTip*", [0.08, 0, -0.06], 0],
    ["hind*", "rump", [0.05, 0, -0.17], 1.5, "yxz"],
    ["hindTip*", "hind*", [0.012, 0, -0.16], 0.5, "yxz"],
    ["hindEnd*", "hindTip*", [0.004, 0, -0.1], 0],
  ]),
]);
const WORDS = /** @type {Record<string, string>} */ ({
  trunk: "phoca_mid",
  chest: "phoca_fwd1",
  neck: "phoca_fwd2",
  head: "phoca_fwd3",
  snout: "phoca_fwd4",
  loin: "phoca_aft1",
  rump: "phoca_aft2",
  fore: "phoca_oar1",
  foreTip: "phoca_oar2",
  foreEnd: "phoca_oar3",
  hind: "phoca_fan1",
  hindTip: "phoca_fan2",
  hindEnd: "phoca_fan3",
});
/** @param {string} r */
const n = (r) => WORDS[r] ?? `${WORDS[r.slice(0, -1)]}${r.endsWith("L") ? "P" : "S"}`;

/** How strongly it beats. @param {number} f */
const beat = (f) =>
  val(f, [
    [58, 1],
    [78, 0],
    [END, 0],
  ]);
const wave = (/** @type {number} */ f, /** @type {number} */ late) =>
  Math.sin(((f - late) / PERIOD) * 2 * Math.PI) * beat(f - late * 0.5);
const yaw = (/** @type {number} */ f) =>
  val(f, [
    [62, 0],
    [72, 6],
    [88, 38],
    [104, 66],
    [END, 74],
  ]);
const bank = (/** @type {number} */ f) =>
  val(f, [
    [58, 0],
    [74, -44],
    [92, -44],
    [112, -10],
    [END, -7],
  ]);
const pitch = (/** @type {number} */ f) =>
  val(f, [
    [1, 2],
    [50, 0],
    [76, -8],
    [END, -12],
  ]);

/** Where it is on each frame: it surges with each sweep and slows as it glides. @param {boolean} bad */
function path(bad) {
  const out = [[0, DEEP, 0]];
  for (let f = 1; f < END; f++) {
    const surge = 0.075 * (1 + 0.1 * Math.sin(((f - 4) / PERIOD) * 4 * Math.PI) * beat(f));
    const glide = bad
      ? val(f, [
          [60, 1],
          [84, 1.55],
          [100, 1.4],
          [END, 1.1],
        ])
      : val(f, [
          [60, 1],
          [78, 0.86],
          [END, 0.44],
        ]);
    const d = turn(heading(yaw(f), pitch(f)), [0, 0, surge * glide]);
    out.push(out[f - 1].map((v, i) => v + d[i]));
  }
  return out;
}

/** @param {boolean} bad */
function build(bad) {
  const way = path(bad);
  // The waves of the joints were pasted without their offsets.
  const lag = (/** @type {number} */ k) => (bad ? 0 : k);
  const take = perform(rig, [1, END], (p, f) => {
    const [x, y, z] = way[f - 1];
    const w = (/** @type {number} */ a, /** @type {number} */ k) => a * wave(f, lag(k));
    p.move("trunk", x + 0.012 * wave(f, 2), y + 0.006 * Math.sin((f / 31) * 2 * Math.PI), z);
    p.rot("trunk", pitch(f), yaw(f) + w(3.5, 0), bank(f) + 2 * wave(f, 4));
    p.rot("chest", -2 - 3 * (bank(f - 2) / -44), 7 * (bank(f + 3) / -44) - w(2.5, -2), 0);
    p.rot("neck", -3 - 6 * (bank(f) / -44), 10 * (bank(f + 5) / -44) - w(1.6, -3), -bank(f) * 0.2);
    p.rot("head", 3 - 4 * (bank(f) / -44), 10 * (bank(f + 6) / -44) - w(1.2, -3), -bank(f) * 0.3);
    const bend = bank(f - 3) / -44;
    p.rot("loin", 2, -6 * bend + w(10, 3), 0);
    p.rot("rump", 2, -8 * (bank(f - 5) / -44) + w(15, 6), 0);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const sweep = wave(f, lag(9));
      const fan = Math.max(0, k * sweep);
      p.rot(`hind${s}`, 0, w(17, 9) + k * (3 + 7 * fan), 14 * k);
      p.rot(`hindTip${s}`, 0, w(13, 12) + k * 4 * fan, 0);
      const reach = s === "L" ? bank(f + 1) / -44 : (bank(f - 2) / -44) * 0.55;
      p.rot(
        `fore${s}`,
        -8 * reach * k + 4,
        k * (48 - 46 * reach) + 2 * wave(f, 5),
        k * (-34 + 22 * reach) + 3 * wave(f, 7),
      );
      p.rot(
        `foreTip${s}`,
        0,
        k * (12 - 10 * (bank(f - 3) / -44)) + 3 * wave(f, 9),
        k * (-6 + 4 * reach - 3 * wave(f, 8)),
      );
    }
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 1,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.25, place: 0.002 }) }],
    more: {
      figures: [
        {
          id: "phoca",
          parts: { root: n("trunk"), head: n("head") },
          limbs: ["L", "R"].flatMap((s) => [
            {
              id: `fore flipper ${s}`,
              kind: "fin",
              side: s === "L" ? "left" : "right",
              nodes: [`fore${s}`, `foreTip${s}`, `foreEnd${s}`].map(n),
            },
            {
              id: `hind flipper ${s}`,
              kind: "fin",
              side: s === "L" ? "left" : "right",
              nodes: [`hind${s}`, `hindTip${s}`, `hindEnd${s}`].map(n),
            },
          ]),
        },
      ],
      surfaces: [{ id: "sea", normal: [0, 1, 0], height: 0 }],
      surroundings: [{ medium: "water", below: "sea" }],
      propulsors: [{ figure: "phoca", nodes: ["rump", "hindL", "hindR"].map(n), channel: "rotation.y" }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  drop(curvesOf(doc, ["foreR", "foreTipR"].map(n)), [57, END]);
  const roll = curvesOf(doc, [n("trunk")], "rotation.z");
  straight(roll, [58, 66]);
  for (const c of roll)
    c.keys = [
      ...c.keys.filter((/** @type {any} */ k) => k[0] < 62 || k[0] > 74),
      [62, bank(58), { interpolation: "linear" }],
      [66, bank(74), { interpolation: "linear" }],
      [74, bank(74)],
    ].sort((a, b) => a[0] - b[0]);
  retime(doc, n("trunk"), "translation", [40, 43], (f) => (f === 42 ? 41 : f));
  return tidy(doc);
}
export const flaws = [
  {
    what: "The stroke does not run through the body: loin, rump and flippers all swing over on the same frame, it wags like a plank on a hinge.",
    kind: "chain in phase",
    size: "strong",
    nodes: ["loin", "rump", "hindL", "hindR", "hindTipL", "hindTipR"].map(n),
    frames: [1, 76],
    order: 1,
  },
  {
    what: "It gets half as fast again after it has stopped beating, as if on a line.",
    kind: "motion without drive",
    size: "ordinary",
    nodes: [n("trunk")],
    frames: [60, 104],
    order: 2,
  },
  {
    what: "The roll into the turn snaps over in four frames, straight from nothing to full and dead again.",
    kind: "start and stop too hard",
    size: "ordinary",
    nodes: [n("trunk")],
    frames: [60, 68],
    order: 3,
  },
  {
    what: "The right fore flipper stays pressed to the body in the turn, only the left one comes out.",
    kind: "part left out",
    size: "ordinary",
    nodes: ["foreR", "foreTipR"].map(n),
    frames: [60, 116],
    order: 4,
  },
  {
    what: "A doubled frame: the whole seal stands still from 41 to 42 and catches up on 43.",
    kind: "doubled frame",
    size: "barely",
    nodes: [n("trunk")],
    frames: [41, 43],
    order: 5,
  },
];
export const truth = { masses: masses(rig, n) };
