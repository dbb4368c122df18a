// @ts-check
// A thrush hops to a crust, takes it, and flies off.
import { masses, names } from "../../creatures/kit/bodies.mjs";
import { val, valueAt } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, erase } from "../../creatures/kit/edits.mjs";
import { clamp, RAD } from "../../creatures/kit/math.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { ease, paw } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, soft } from "../kit-B/motion.mjs";

export const name = "thrush_crust";
export const about =
  "A thrush makes two hops, cocks its head at a crust, picks it up, crouches and takes off up and away. Keyed on every frame, at 60 frames per second.";

const FPS = 60;
const END = 132;
const G = 9.81 / FPS / FPS;
const range = /** @type {[number, number]} */ ([1, END]);
const HIP = 0.075;
const rig = makeRig(
  /** @type {any} */ ([
    ["trunk", null, [0, HIP, 0], 0.055, "yxz"],
    ["neck1", "trunk", [0, 0.022, 0.042], 0.004],
    ["neck2", "neck1", [0, 0.016, 0.008], 0.003],
    ["head", "neck2", [0, 0.016, 0.006], 0.006],
    ["bill", "head", [0, -0.002, 0.026], 0],
    ["tail1", "trunk", [0, 0.002, -0.05], 0.002],
    ["tail2", "tail1", [0, 0, -0.05], 0],
    ...bothSides([
      ["wing*", "trunk", [0.018, 0.018, 0.022], 0.002, "yzx"],
      ["elbow*", "wing*", [0.03, 0, -0.004], 0.002, "yzx"],
      ["carpus*", "elbow*", [0.042, 0, 0.004], 0.001, "yzx"],
      ["feather*", "carpus*", [0.085, 0, -0.03], 0, "yzx"],
      ["thigh*", "trunk", [0.014, -0.012, 0.006], 0.002, "xzy"],
      ["shin*", "thigh*", [0, -0.026, 0.001], 0.001],
      ["shank*", "shin*", [0, -0.034, 0], 0.001],
      ["toes*", "shank*", [0, -0.03, 0], 0],
    ]),
  ]),
);
const n = names(
  {
    L: "vas",
    R: "oik",
    trunk: "runko",
    neck1: "kaula1",
    neck2: "kaula2",
    head: "paa",
    bill: "nokka",
    tail1: "pyrsto",
    tail2: "pyrsto_paa",
    "wing*": "siipi_*",
    "elbow*": "kyynar_*",
    "carpus*": "ranne_*",
    "feather*": "sulka_*",
    "thigh*": "reisi_*",
    "shin*": "saari_*",
    "shank*": "nilkka_*",
    "toes*": "varpaat_*",
  },
  "rastas:",
);

// Each hop: off the ground, down again, how far. In the air the body falls as all things do.
const HOPS = [
  { up: 14, down: 20, from: 0, to: 0.09 },
  { up: 30, down: 36, from: 0.09, to: 0.165 },
];
const LEAP = 112;
/** How far the body is along in the hops: pushed off in 3 frames, even in the air, braked in 5. @param {number} f */
function along(f) {
  let z = 0;
  for (const h of HOPS) {
    const T = h.down - h.up;
    const v = (h.to - h.from) / (T + 4);
    const t = f - h.up;
    if (t <= -3) continue;
    if (t < 0) z += (v * (t + 3) ** 2) / 6;
    else if (t <= T) z += v * 1.5 + v * t;
    else if (t < T + 5) z += v * 1.5 + v * T + v * (t - T - (t - T) ** 2 / 10);
    else z += h.to - h.from;
  }
  return z;
}
const K = { interpolation: "cubic" };
const V = (G * 6) / 2;
/** Keys of the height: dips to push, falls free, dips to land. @type {any[]} */
const HEIGHT = [
  [4, 0, { ...K, in: 0, out: 0 }],
  [11, -0.012, { ...K, in: 0, out: 0 }],
  [14, 0, { ...K, in: V, out: V }],
  [20, 0, { ...K, in: -V, out: -V }],
  [23, -0.012, { ...K, in: 0, out: 0 }],
  [27, -0.0122, { ...K, in: 0, out: 0 }],
  [30, 0, { ...K, in: V, out: V }],
  [36, 0, { ...K, in: -V, out: -V }],
  [39, -0.0118, { ...K, in: 0, out: 0 }],
  [47, 0.0012, { ...K, in: 0, out: 0 }],
  [54, 0, { ...K, in: 0, out: 0 }],
];
/** Height of the body over its stance; a cubic with these slopes is the free fall itself. @param {number} f */
const height = (f) => valueAt(HEIGHT, f, "cubic");
// The act on the ground: cock the head, bow and take the crust, up, crouch.
const cock = soft(
  [
    [47, 0],
    [52, 1],
    [60, 1],
    [66, 0],
  ],
  1.5,
);
const bow = soft(
  [
    [60, 0],
    [63, -0.06],
    [72, 1],
    [76, 0.97],
    [88, -0.05],
    [94, 0],
  ],
  2,
);
const crouch = soft(
  [
    [93, 0],
    [105, 1],
    [106, 1],
  ],
  2,
);
const glance = soft(
  [
    [88, 0],
    [92, 1],
    [97, 1],
    [102, 0],
  ],
  1.5,
);
/** From the leap on: the legs push for 6 frames, then the wings carry it on and speed it up. @param {number} f */
function flight(f) {
  const t = f - (LEAP - 6);
  if (t <= 0) return { z: 0, y: 0 };
  const push = Math.min(t, 6);
  const s = Math.max(0, t - 6);
  const ay = 0.00155;
  const az = 0.0011;
  return {
    y: (ay * push ** 2) / 2 + ay * 6 * s + 0.00002 * s * s,
    z: (az * push ** 2) / 2 + az * 6 * s + 0.00018 * s * s,
  };
}
const BEAT = 7;
const open = soft(
  [
    [103, 0],
    [110, 1],
  ],
  1.5,
);

/** @param {{ floaty?: boolean, lateWings?: boolean, stiff?: boolean, deep?: boolean }} bad */
function act(bad) {
  /** @type {Record<string, { d: number[], lean: number }>} */ const left = {};
  return perform(rig, range, (p, f) => {
    const fly = flight(f);
    const aloft = clamp((f - LEAP) / 10, 0, 1);
    const hop = HOPS.find((h) => f > h.up && f < h.down);
    let lift = height(f);
    // Hung in the air: as high for twice as long as it may take.
    if (bad.floaty && hop === HOPS[0]) {
      const u = (f - hop.up) / (hop.down - hop.up);
      lift = 0.026 * (1 - (2 * u - 1) ** 4);
    }
    if (bad.stiff && f > HOPS[1].down && f < 60) lift = 0;
    const air = hop ? Math.sin((Math.PI * (f - hop.up)) / (hop.down - hop.up)) : 0;
    const still = val(f, [
      [44, 0],
      [52, 1],
      [100, 1],
      [106, 0],
    ]);
    const breath = drift(f, 44, 2) * still;
    const b = bow(f);
    const c = crouch(f);
    const beat = bad.lateWings ? f - LEAP - 9 : f - (LEAP - 5);
    const wings = bad.lateWings ? clamp((f - 119) / 4, 0, 1) : open(f);
    const flap = wings * Math.cos((2 * Math.PI * beat) / BEAT);
    p.move(
      "trunk",
      0,
      HIP - 0.006 + lift - 0.012 * b - 0.017 * c + fly.y + 0.0004 * breath - 0.0022 * aloft * flap,
      along(f) - 0.004 * b - 0.004 * c + fly.z,
    );
    const pitch =
      -16 - 6 * air + 50 * b + 6 * c - 30 * ease((f - (LEAP - 7)) / 9) + 6 * lift * -40 + 0.6 * breath;
    p.rot("trunk", pitch, 0, 0);
    // The neck folds between the trunk and where the head is to be; the head keeps level.
    const reachUp = p.point("trunk", [0, 0.02 + 0.032 - 0.012 * air, 0.058]);
    const crust = [0, bad.deep ? 0.016 : 0.03, 0.165 + 0.064];
    const w = clamp(b, 0, 1);
    const goal = reachUp.map((v, i) => v + (crust[i] - v) * w);
    if (b < 0) goal[1] += 0.02 * -b;
    const back = (105 * w - 10) * RAD;
    p.reach("neck1", "neck2", "head", goal, [0, Math.sin(back), -Math.cos(back)]);
    p.face(
      "head",
      heading(
        34 * glance(f) + 10 * cock(f),
        4 + 62 * w - 8 * aloft + 8 * cock(f),
        -24 * cock(f) * (1 - w) + 1.2 * drift(f, 37, 4) * still,
      ),
    );
    const g = f - 3;
    const jolt = height(g) / 0.011;
    p.rot(
      "tail1",
      8 + 7 * clamp(jolt, -1, 3) - 12 * bow(f - 3) + 9 * crouch(f - 2) + breath + 8 * aloft,
      0,
      0,
    );
    p.rot("tail2", 3 * clamp(height(f - 5) / 0.011, -1, 3) + 4 * crouch(f - 4), 0, 0);
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      // Folded wings give a little at the landings and with the breath.
      const settle = (1 - wings) * (2.2 * clamp(jolt, -1, 1) + 0.8 * drift(f, s === "L" ? 48 : 55, k + 2));
      // Folded: swept back along the flank. Open: out, beating; the hand follows the arm.
      const fold = 1 - wings;
      const late = wings * Math.cos((2 * Math.PI * (beat - 1.1)) / BEAT);
      p.rot(
        `wing${s}`,
        8 * flap + settle,
        k * ((66 + settle) * fold - 8 * late),
        k * (-16 * fold + 0.8 * settle + 52 * flap + 8 * wings + 34 * wings * (1 - ease((f - 107) / 9))),
      );
      p.rot(`elbow${s}`, 0, k * (-118 * fold - 16 * Math.max(0, -late)), k * (6 * fold + 12 * late));
      p.rot(`carpus${s}`, 0, k * (142 * fold + 20 * Math.max(0, -late)), k * 20 * late);
      // Feet stand together, tuck in the air, and trail when it flies.
      let z = 0;
      let y = 0;
      for (const h of HOPS) {
        const u = clamp((f - h.up) / (h.down - h.up), 0, 1);
        z += (h.to - h.from) * ease(u);
        if (hop === h) y = height(f) * 0.85 + 0.008 * Math.sin(Math.PI * u) ** 2;
      }
      const off = ease((f - LEAP) / 12);
      const stand = [k * 0.016, y, z + 0.012 + (s === "L" ? 0.003 : -0.003)];
      const hips = p.world(`thigh${s}`).p;
      let tip = stand;
      let lean = -24 + 500 * (hips[2] - tip[2] + 0.006);
      if (f <= LEAP) left[s] = { d: tip.map((v, i) => v - hips[i]), lean };
      else {
        // Off the ground the leg keeps its reach for a moment, then folds under the tail.
        const tuck = [0, -0.044, -0.03];
        tip = left[s].d.map((v, i) => hips[i] + v + (tuck[i] - v) * off);
        lean = left[s].lean + (58 - left[s].lean) * off;
      }
      paw(p, [`thigh${s}`, `shin${s}`, `shank${s}`, `toes${s}`], tip, lean, [0, 0.25, 1]);
    }
  });
}

/** @param {Parameters<typeof act>[0]} bad */
function build(bad) {
  return makeDocument({
    name: "thrush_crust_v3",
    fps: FPS,
    range,
    unit: 0.001,
    bodies: [{ rig, name: n, curves: keyed(act(bad), { how: "every" }) }],
  });
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ floaty: true, lateWings: true, stiff: true, deep: true });
  erase(doc, [n("tail1"), n("tail2")]);
  for (const [f, by] of [
    [97, 9],
    [98, 14],
    [99, 4],
  ])
    bump(doc, n("head"), "rotation.y", f, by);
  return doc;
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "In the first hop it hangs in the air with a flat top, as if on a string; a hop that short is a clean little arc.",
    kind: "floaty jump",
    size: "strong",
    nodes: [n("trunk")],
    frames: [13, 21],
    order: 2,
  },
  {
    what: "It is off the ground and rising while the wings are still shut on its back; nothing lifts it until 119. The first downbeat belongs to the push.",
    kind: "nothing drives it",
    size: "strong",
    nodes: ["trunk", "wingL", "wingR", "elbowL", "elbowR"].map(n),
    frames: [106, 122],
    order: 1,
  },
  {
    what: "No give in the legs at the second landing, the body stops dead at 36 from full fall.",
    kind: "landing without give",
    size: "ordinary",
    nodes: ["trunk", "thighL", "thighR", "shinL", "shinR"].map(n),
    frames: [35, 42],
    order: 3,
  },
  {
    what: "The tail was not touched: no flick at the landings, nothing in the bow or the crouch.",
    kind: "part forgotten",
    size: "ordinary",
    nodes: ["tail1", "tail2"].map(n),
    frames: [1, 132],
    order: 4,
  },
  {
    what: "The bill goes into the ground when it takes the crust.",
    kind: "goes through the ground",
    size: "barely",
    nodes: ["bill", "head", "neck2"].map(n),
    frames: [68, 82],
    order: 5,
  },
  {
    what: "A twitch in the head at 98 on the way back from the glance.",
    kind: "pop",
    size: "barely",
    nodes: [n("head")],
    frames: [96, 100],
    order: 6,
  },
];
export const truth = {
  plants: [
    [1, 14],
    [20, 30],
    [36, LEAP],
  ].flatMap((frames) =>
    ["toesL", "toesR"].map((j) => ({
      node: n(j),
      frames: /** @type {[number, number]} */ (frames),
      limit: 0.001,
    })),
  ),
  ground: { nodes: ["toesL", "toesR", "bill", "featherL"].map(n), height: 0, under: 0.001 },
  masses: masses(rig, n),
  balance: [{ frames: [44, 104], feet: [n("toesL"), n("toesR")], margin: 0.03 }],
};
