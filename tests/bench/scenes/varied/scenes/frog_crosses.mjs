import { masses } from "../../creatures/kit/bodies.mjs";
import { cameraNode } from "../../creatures/kit/camera.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bothSides, centreAt, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { stopDead } from "../../slips.mjs";
import { one, paddle, played, tracks } from "../kit/stage.mjs";

export const name = "frog_crosses";
export const about =
  "A bullfrog sits on wet stone, gathers itself, and leaps across in one long jump; it comes down on its hands, folds its legs in and sits.";

const FPS = 60;
const RANGE = [101, 220];
const UP = 145;
const DOWN = 162;
const G = 9.81 / FPS / FPS;
const VY = (G * (DOWN - UP)) / 2 - 0.022 / (DOWN - UP);
const VZ = 0.02;
const rig = makeRig([
  ["body", null, [0, 0.06, 0], 0.25],
  ["chest", "body", [0, 0.01, 0.07], 0.18],
  ["head", "chest", [0, 0.012, 0.035], 0.1],
  ["snout", "head", [0, -0.004, 0.05], 0],
  ["throat", "head", [0, -0.022, 0.02], 0],
  ...bothSides([
    ["thigh*", "body", [0.03, -0.012, -0.01], 0.05, "zyx"],
    ["shin*", "thigh*", [0.03, -0.04, 0.055], 0.03, "xzy"],
    ["tarsus*", "shin*", [0.02, -0.05, -0.05], 0.015, "xzy"],
    ["toes*", "tarsus*", [0.01, -0.008, 0.045], 0],
    ["arm*", "chest", [0.034, -0.012, 0.005], 0.015, "xzy"],
    ["fore*", "arm*", [0.024, -0.03, -0.026], 0.01, "xzy"],
    ["palm*", "fore*", [-0.002, -0.042, 0.016], 0.004, "xzy"],
    ["finger*", "palm*", [0.004, -0.004, 0.02], 0],
  ]),
]);
const WORDS = {
  body: "zad",
  chest: "grud",
  head: "golova",
  snout: "rylo",
  throat: "gorlo",
  thigh: "bedro",
  shin: "golen",
  tarsus: "stopa",
  toes: "palcy",
  arm: "plecho",
  fore: "predplechye",
  palm: "ladon",
  finger: "palec",
};
const n = (role) => {
  const [, word, side] = role.match(/^(.*?)([LR]?)$/);
  return `zhaba_${WORDS[word]}${side ? (side === "L" ? "_lev" : "_prav") : ""}`;
};
// The centre of mass: sits, sinks back, drives through the legs, falls freely, gives way on the hands and settles.
const LAND = [VY * (DOWN - UP) - (G * (DOWN - UP) ** 2) / 2, VZ * (DOWN - UP)];
const Y0 = 0.096;
const Z0 = 0.064;
const D = Z0 + LAND[1] + 0.055 - 0.028;
const comKeys = (axis) =>
  axis === "y"
    ? [
        [101, 0.05, 0],
        [116, 0.0502, 0],
        [134, 0.04, 0],
        [140, 0.0385, 0.0005],
        [UP, Y0, VY],
        [DOWN, Y0 + LAND[0], VY - G * (DOWN - UP)],
        [169, 0.034, 0],
        [181, 0.0525, 0],
        [191, 0.0497, 0],
        [220, 0.0502, 0],
      ]
    : [
        [101, 0.028, 0],
        [116, 0.028, 0],
        [134, 0.012, 0],
        [140, 0.0135, 0.001],
        [UP, Z0, VZ],
        [DOWN, Z0 + LAND[1], VZ],
        [169, D + 0.018, 0.0028],
        [180, D + 0.029, 0],
        [191, D + 0.028, 0],
        [220, D + 0.028, 0],
      ];
const cubic = (axis) =>
  one(
    comKeys(axis).map(([f, v, s]) => [f, v, { in: s, out: s }]),
    "cubic",
  );
const [cy, cz] = [cubic("y"), cubic("z")];
const sit = one(
  [
    [101, 0.05],
    [116, 0.0502],
    [137, 0.0512],
    [140, 0.052],
    [UP, Y0, { in: VY }],
  ],
  "cubic",
);
const com = (f, flat) => {
  if (flat && f < UP) return [0, sit(f), f < 140 ? 0.028 - Math.max(0, f - 130) * 0.0008 : cz(f)];
  if (f <= UP || f >= DOWN) return [0, cy(f), cz(f)];
  const t = f - UP;
  return [0, Y0 + VY * t - (G * t * t) / 2, Z0 + VZ * t];
};
const pitch = one([
  [101, -18],
  [116, -18],
  [134, -12],
  [UP, -40],
  [151, -24],
  [157, 2],
  [DOWN, 14],
  [169, 10],
  [183, -20],
  [192, -17],
  [220, -18],
]);
const bow = one([
  [101, 6],
  [118, 6],
  [136, 12],
  [UP, 12],
  [151, 8],
  [158, -10],
  [DOWN, -10],
  [172, 10],
  [186, 5],
  [196, 6],
  [220, 6],
]);
const look = one([
  [101, 6],
  [119, 9],
  [137, 4],
  [UP + 1, 20],
  [152, 12],
  [160, -8],
  [165, -12],
  [175, 12],
  [189, 5],
  [220, 6],
]);
const skid = one([
  [101, 1],
  [172, 1],
  [196, 0],
  [220, 0],
]);
const breath = (f) => Math.sin((2 * Math.PI * f) / 26);

function build(bad) {
  // Where the feet stand: before, and after. In the air they are given in the body's space and come in from behind.
  const take = played(rig, RANGE, (p, f) => {
    const calm = Math.max(0, Math.min(1, (118 - f) / 8)) + Math.max(0, Math.min(1, (f - 192) / 12));
    const g = bad && f > 116 && f < 140 ? Math.max(116, 140 - (140 - f) * 4) : f;
    p.rot("body", pitch(g), 0, 0);
    p.rot("chest", bow(g), 0, 0);
    p.rot("head", look(g), 0, 0);
    p.move("throat", 0, -0.022 - 0.003 * calm * breath(f), 0.02);
    const legs = () => {
      for (const [s, m, late] of [
        ["L", 1, 0],
        ["R", -1, 0.7],
      ]) {
        const toeDown = one([
          [101, 0],
          [136, 0],
          [UP, 62],
          [151, 74],
          [157, 58],
          [165, 18],
          [169, 0],
          [220, 0],
        ])(f - late);
        const [c, d] = [Math.cos((toeDown * Math.PI) / 180), Math.sin((toeDown * Math.PI) / 180)];
        // The toes stand; the heel comes up about them.
        const heel = (z) => [m * 0.066, 0.008 * c + 0.045 * d, z + 0.045 + 0.008 * d - 0.045 * c];
        const low = bad && s === "L" ? 0.04 : 0;
        paddle(p, f, {
          limb: [`thigh${s}`, `shin${s}`, `tarsus${s}`],
          pole: [m * 0.75, 0.55, 0.6],
          plants: [
            [101, UP, heel(-0.052)],
            [168 + late, 220, heel(D - 0.052)],
          ],
          air: tracks([
            [UP, 0, 0, 0],
            [149 + late, m * 0.045, -0.035, -0.12],
            [154 + late, m * 0.055, -0.03, -0.1],
            [162 + late, m * 0.07, -0.024 - low, -0.03],
            [168 + late, 0, 0, 0],
          ]),
          from: "body",
          blend: [5, 7],
        });
        p.face(`tarsus${s}`, [
          Math.sin((toeDown * Math.PI) / 360),
          0,
          0,
          Math.cos((toeDown * Math.PI) / 360),
        ]);
        paddle(p, f, {
          limb: [`arm${s}`, `fore${s}`, `palm${s}`],
          pole: [m * 0.8, 0.1, -0.8],
          plants: [
            [101, 140 + late, [m * 0.058, 0.006, 0.078]],
            [DOWN + 1 + late, 220, [m * 0.058, 0.006, D + 0.078 - (bad && s === "R" ? 0.022 * skid(f) : 0)]],
          ],
          air: tracks([
            [140, 0, 0, 0],
            [148 + late, m * 0.055, -0.05, -0.02],
            [153 + late, m * 0.06, -0.045, 0.01],
            [159 + late, m * 0.05, -0.045, 0.036],
            [DOWN + 1, 0, 0, 0],
          ]),
          from: "chest",
          blend: [6, 4],
        });
        const palm = one([
          [101, 0],
          [138, 0],
          [144, 40],
          [150, 46],
          [158, -18],
          [DOWN, -6],
          [165, 0],
          [220, 0],
        ])(f - late);
        p.face(`palm${s}`, [Math.sin((palm * Math.PI) / 360), 0, 0, Math.cos((palm * Math.PI) / 360)]);
      }
    };
    centreAt(
      p,
      bad && f > UP && f < DOWN
        ? [
            0,
            Y0 +
              (LAND[0] * (f - UP)) / (DOWN - UP) +
              0.055 * Math.sin((Math.PI * (f - UP)) / (DOWN - UP)) ** 0.35,
            com(f)[2],
          ]
        : com(f, bad),
      legs,
    );
  });
  return makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 0.001,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "cubic", turn: 0.08, place: 0.00012 }) }],
    things: [cameraNode("kamera", [1.15, 0.2, 0.42], [0, 0.1, 0.25], 0.001)],
    more: {
      surfaces: [{ id: "kamen", normal: [0, 1, 0], height: 0 }],
      cameras: [{ id: "sboku", node: "kamera", verticalFieldOfView: 30, aspect: 1.85 }],
    },
  });
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of doc.curves) if (c.node === n("throat")) c.keys = c.keys.filter((k) => k[0] < 190);
  stopDead(doc, [n("head")], "rotation.x", 169, 173, 198);
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "In the air it hangs: up at once, level across, and down like a dropped stone; no arc of a thrown body.",
    kind: "floats in the jump",
    size: "strong",
    nodes: all("body"),
    frames: [UP, DOWN],
    order: 1,
  },
  {
    what: "There is no gathering before the leap; it sits, and then it's gone. Sink back onto the legs first.",
    kind: "no anticipation",
    size: "strong",
    nodes: all("body", "chest", "head"),
    frames: [116, UP],
    order: 2,
  },
  {
    what: "The left hind foot comes in through the stone before it is set down.",
    kind: "foot through the ground",
    size: "ordinary",
    nodes: all("thighL", "shinL", "tarsusL", "toesL"),
    frames: [155, 168],
    order: 3,
  },
  {
    what: "The right hand skids forward on the stone as it settles, with the weight on it.",
    kind: "hand slides",
    size: "ordinary",
    nodes: all("armR", "foreR", "palmR", "fingerR"),
    frames: [DOWN + 1, 196],
    order: 4,
  },
  {
    what: "The nod of the head after the landing stops as if it hit a wall at 173, no settle.",
    kind: "stops dead",
    size: "ordinary",
    nodes: all("head", "snout"),
    frames: [169, 198],
    order: 5,
  },
  {
    what: "It breathed at the throat before the jump; after it, out of breath if anything, the throat stands still.",
    kind: "breath forgotten",
    size: "barely",
    nodes: all("throat"),
    frames: [190, 220],
    order: 6,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) => [
    { node: n(`toes${s}`), frames: [101, UP - 1], limit: 0.0015 },
    { node: n(`toes${s}`), frames: [170, 220], limit: 0.0015 },
    { node: n(`palm${s}`), frames: [101, 138], limit: 0.0015 },
    { node: n(`palm${s}`), frames: [DOWN + 2, 220], limit: 0.0015 },
  ]),
  air: [{ frames: [UP, DOWN] }],
  picture: { nodes: all("snout", "body", "toesL", "toesR"), frames: RANGE },
  ground: {
    nodes: ["tarsusL", "tarsusR", "palmL", "palmR", "body", "snout", "toesL", "toesR"].map(n),
    height: 0,
    under: 0.003,
  },
  spikes: {
    except: [
      [143, 147],
      [160, 172],
    ],
  },
  masses: masses(rig, n),
};
