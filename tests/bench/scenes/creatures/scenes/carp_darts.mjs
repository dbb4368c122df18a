// @ts-check
// A carp takes fright.
import { pop } from "../../slips.mjs";
import { names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "carp_darts";
export const about =
  "A carp in a pond cruises, stops beating and glides; it takes fright, bends like a bow and darts off to its left with a stroke of the tail and three quick beats, and glides out.";

const END = 124;
const rig = makeRig(
  /** @type {any} */ ([
    ["hull", null, [0, 0, 0], 0.9, "yxz"],
    ["gill", "hull", [0, 0, 0.08], 0.4],
    ["mouth", "gill", [0, -0.01, 0.1], 0],
    ["wave1", "hull", [0, 0, -0.05], 0.4],
    ["wave2", "wave1", [0, 0, -0.075], 0.25],
    ["wave3", "wave2", [0, 0, -0.07], 0.12],
    ["caudal", "wave3", [0, 0, -0.06], 0.03],
    ["tip", "caudal", [0, 0, -0.09], 0],
    ["crest", "hull", [0, 0.07, -0.02], 0.01],
    ["crestEnd", "crest", [0, 0.05, -0.06], 0],
    ...bothSides([
      ["pec*", "gill", [0.04, -0.04, 0], 0.01],
      ["pecEnd*", "pec*", [0.06, -0.01, -0.05], 0],
    ]),
  ]),
);
const n = names(
  {
    L: "vlevo",
    R: "vpravo",
    hull: "trup",
    gill: "zabra",
    mouth: "tlama",
    wave1: "telo_1",
    wave2: "telo_2",
    wave3: "telo_3",
    caudal: "ocas",
    tip: "ocas_konec",
    crest: "hreben",
    crestEnd: "hreben_konec",
    "pec*": "ploutev_*",
    "pecEnd*": "ploutev_konec_*",
  },
  "kapr|",
);

/** Beats that are done by a frame: slow in the cruise, none in the glide, quick in the dart. */
const cycles = (() => {
  /** @type {number[]} */ const out = [];
  let sum = 0;
  for (let f = -30; f <= END + 30; f++) {
    out[f + 30] = sum;
    sum +=
      f < 64
        ? 1 / 22
        : val(f, [
            [64, 1 / 9],
            [84, 1 / 11],
            [104, 1 / 24],
          ]);
  }
  return out;
})();
const phase = (/** @type {number} */ f) => {
  const i = Math.floor(f);
  return 2 * Math.PI * (cycles[i + 30] + (f - i) * (cycles[i + 31] - cycles[i + 30]));
};
const power = (/** @type {number} */ f) =>
  val(f, [
    [34, 1],
    [46, 0],
    [62, 0],
    [69, 1.35],
    [84, 0.9],
    [98, 0.12],
    [124, 0],
  ]);
/** The bow: bent to the left, then thrown over to the right. */
const bow = (/** @type {number} */ f) =>
  val(f, [
    [54, 0],
    [60, 1],
    [66, -0.75],
    [72, 0],
  ]);
const yaw = (/** @type {number} */ f) =>
  val(f, [
    [1, -3],
    [30, 2],
    [54, 0],
    [60, 34],
    [68, 74],
    [80, 82],
    [124, 88],
  ]);
const speed = (/** @type {number} */ f) =>
  val(f, [
    [1, 0.0125],
    [34, 0.0125],
    [58, 0.005],
    [60, 0.005],
    [67, 0.062],
    [84, 0.046],
    [104, 0.018],
    [124, 0.008],
  ]);

/** @param {boolean} bad */
function build(bad) {
  // The speed was keyed nine frames before the stroke that makes it; and at 101 it ends at once.
  const fast = (/** @type {number} */ f) =>
    !bad
      ? speed(f)
      : f >= 101
        ? 0
        : f < 76
          ? speed(
              f +
                val(f, [
                  [44, 0],
                  [50, 9],
                  [64, 9],
                  [76, 0],
                ]),
            )
          : Math.max(speed(f), 0.03);
  /** @type {number[][]} */ const path = [];
  let [x, z] = [0, 0];
  for (let f = 1; f <= END; f++) {
    path[f] = [x, z];
    const a = (yaw(f - 1.5) * Math.PI) / 180;
    x += Math.sin(a) * fast(f);
    z += Math.cos(a) * fast(f);
  }
  const lag = bad ? 0 : 1;
  const wave = (/** @type {number} */ f, /** @type {number} */ late) =>
    Math.sin(phase(f) - late) * power(f - late);
  const take = perform(rig, [1, END], (p, f) => {
    p.move(
      "hull",
      path[f][0],
      -0.55 +
        val(f, [
          [1, 0],
          [50, 0.02],
          [62, 0.015],
          [90, -0.04],
          [124, -0.05],
        ]),
      path[f][1],
    );
    p.rot(
      "hull",
      val(f, [
        [1, 1],
        [50, -2],
        [66, 3],
        [90, 2],
        [124, 0],
      ]),
      yaw(f) + 2.2 * wave(f, 2.6) - 8 * bow(f - 1),
      val(f, [
        [1, 0],
        [54, 0],
        [62, 16],
        [74, 8],
        [96, 0],
        [124, 1],
      ]),
    );
    p.rot("gill", 0, 1.8 * wave(f, 1.8 * lag) + 20 * bow(f), 0);
    [
      ["wave1", 5, 13],
      ["wave2", 8, 20],
      ["wave3", 12, 24],
      ["caudal", 16, 26],
    ].forEach(([id, a, b], i) => {
      const late = lag * 0.85 * i;
      p.rot(
        /** @type {string} */ (id),
        0,
        Number(a) * wave(f, 3.4 * lag + late) - Number(b) * bow(f - lag * (0.8 + 0.9 * i)),
        0,
      );
    });
    p.rot(
      "crest",
      -14 *
        val(f, [
          [54, 0],
          [60, 1],
          [90, 0.9],
          [112, 0],
        ]),
      2.5 * wave(f, 3),
      0,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const scull =
        Math.sin((2 * Math.PI * (f + (bad || s === "L" ? 0 : 7))) / 17) *
        val(f - (s === "L" ? 0 : bad ? 0 : 2), [
          [1, 1],
          [52, 1],
          [58, 0],
          [96, 0],
          [110, 1],
          [124, 1],
        ]);
      const flat = val(f - (s === "L" ? 0 : bad ? 0 : 1.5), [
        [52, 0],
        [59, 1],
        [92, 0.9],
        [106, 0],
        [124, 0],
      ]);
      p.rot(
        `pec${s}`,
        6 * scull + (s === "L" || bad ? 0 : 3),
        k * (4 + 12 * scull + 42 * flat - (s === "L" || bad ? 0 : 5)),
        k * (-22 + 15 * scull - 10 * flat),
      );
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.12, place: 0.0008 }) }],
    more: {
      surfaces: [{ id: "hladina", height: 0 }],
      surroundings: [{ medium: "water", below: "hladina" }],
      figures: [
        {
          id: "kapr",
          parts: { root: n("hull"), head: n("gill") },
          limbs: [
            { id: "ocas", kind: "tail", nodes: ["wave1", "wave2", "wave3", "caudal", "tip"].map(n) },
            { id: "ploutev vlevo", kind: "fin", side: "left", nodes: ["pecL", "pecEndL"].map(n) },
            { id: "ploutev vpravo", kind: "fin", side: "right", nodes: ["pecR", "pecEndR"].map(n) },
          ],
        },
      ],
      propulsors: [{ figure: "kapr", nodes: [n("wave2"), n("wave3"), n("caudal")], channel: "rotation.y" }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  pop(doc, n("gill"), "rotation.y", 24, 13);
  return doc;
}
export const flaws = [
  {
    what: "It shoots off before the tail has struck: the body is at full speed while it is still bending.",
    kind: "speed before the stroke",
    size: "strong",
    nodes: [n("hull")],
    frames: [46, 68],
    order: 1,
  },
  {
    what: "It stops dead in the water at 101, no glide.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: [n("hull")],
    frames: [99, 104],
    order: 2,
  },
  {
    what: "The tail wags in one piece, body and fin on the same frame; the wave has to run down to the fin.",
    kind: "no drag",
    size: "ordinary",
    nodes: ["wave1", "wave2", "wave3", "caudal", "tip"].map(n),
    frames: [1, 100],
    order: 3,
  },
  {
    what: "The head flicks aside for one frame at 24.",
    kind: "pop",
    size: "ordinary",
    nodes: ["gill", "mouth"].map(n),
    frames: [23, 25],
    order: 4,
  },
  {
    what: "Both breast fins scull exactly together, as if they were one.",
    kind: "twinning",
    size: "barely",
    nodes: ["pecL", "pecR"].map(n),
    frames: [1, END],
    order: 5,
  },
];
export const truth = {};
