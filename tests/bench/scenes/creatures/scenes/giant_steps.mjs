// @ts-check
// A giant takes three steps and looks down.
import { masses, names, person } from "../kit/bodies.mjs";
import { cameraNode } from "../kit/camera.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, drop, hold, tidy } from "../kit/edits.mjs";
import { lookAt, partsOf, strike } from "../kit/people.mjs";
import { footAt } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "giant_steps";
export const about =
  "A giant of twelve metres walks three slow steps over a field, comes to a stand, and bends to look at a cottage before his feet. Low camera from the side.";

const END = 240;
const H = 12;
const rig = person(H, { mass: 24000, wide: 1.25, legs: 0.46, head: 0.12 });
const n = names({
  L: "Esq",
  R: "Dir",
  hips: "Quadril",
  waist: "Lombar",
  chest: "Peito",
  neck: "Pescoco",
  head: "Cabeca",
  crown: "CabecaFim",
  "thigh*": "Coxa*",
  "shin*": "Perna*",
  "foot*": "Pe*",
  "ball*": "PeBola*",
  "toe*": "DedosPe*",
  "clav*": "Clavicula*",
  "arm*": "Braco*",
  "fore*": "Antebraco*",
  "hand*": "Mao*",
  "tip*": "Dedos*",
});
const LEG = H * 0.46;
const COTTAGE = [0.3, 0, 12.4];

/** @param {boolean} bad */
function build(bad) {
  const x = 0.72;
  const plants = {
    L: [
      { from: -99, to: 34, at: [x, 0, 0.4], yaw: 6 },
      { from: 64, to: 108, at: [x, 0, 4.0], yaw: 6 },
      { from: 136, to: 999, at: [x, 0, 6.3], yaw: 8 },
    ],
    R: [
      { from: -99, to: -6, at: [-x, 0, -1.4], yaw: -6 },
      { from: 22, to: 72, at: [-x, 0, 2.3], yaw: -6 },
      { from: 100, to: 999, at: [-x, 0, 5.7], yaw: -7 },
    ],
  };
  // In hurry: the middle step is taken in a third of its time.
  if (bad) {
    plants.L[1].from = 45;
    plants.L[0].to = 35;
  }
  const z = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.05],
      [22, 1.1],
      [43, 2.0],
      [64, 2.95],
      [85, 3.85],
      [104, 4.7],
      [130, 5.35],
      [150, 5.55],
      [176, 5.4],
      [200, 5.12],
      [240, 5.1],
    ]);
  const side = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.6],
      [12, 1],
      [50, -1],
      [88, 1],
      [122, -1],
      [150, -0.1],
      [176, 0.06],
      [240, 0],
    ]);
  const give = (/** @type {number} */ f) =>
    (bad ? 0 : 1) *
    val(f, [
      [22, 0],
      [31, 1],
      [48, -0.5],
      [64, 0],
      [74, 1],
      [90, -0.5],
      [100, 0],
      [110, 1],
      [124, -0.35],
      [136, 0],
      [145, 0.6],
      [162, 0],
    ]);
  const swing = (/** @type {number} */ f) =>
    val(f, [
      [1, -0.5],
      [22, -1],
      [64, 1],
      [100, -1],
      [134, 0.35],
      [156, -0.12],
      [176, 0],
    ]);
  const bow = (/** @type {number} */ f) =>
    val(f, [
      [156, 0],
      [164, -0.08],
      [204, 1.04],
      [218, 1],
      [240, 1],
    ]);
  const roll = (/** @type {'L' | 'R'} */ s, /** @type {number} */ f) => {
    const list = plants[s];
    for (let i = 0; i + 1 < list.length; i++) {
      const off = list[i].to;
      const on = list[i + 1].from;
      if (f > off - 17 && f <= on + 8) {
        return val(f, [
          [off - 17, 0],
          [off, 22],
          [off + (on - off) * 0.3, 26],
          [on - 4, -9],
          [on, -8],
          [on + 8, 0],
        ]);
      }
    }
    return 0;
  };
  const foot = (/** @type {'L' | 'R'} */ s, /** @type {number} */ f) => {
    const g = footAt(plants[s], f, 0.75, 0.9);
    return { at: g.at, yaw: g.yaw, pitch: roll(s, f), out: 9 };
  };
  const take = perform(rig, [1, END], (p, f) => {
    const b = bow(f);
    const s = side(f);
    const w = swing(f);
    const g = give(f);
    strike(p, {
      hips: [0.3 * s, LEG + 0.02 * H - 0.38 - 0.16 * g - 0.25 * b, z(f) - 0.25 * b],
      hipsR: [2 + 1.5 * g + 18 * b, 7 * w, -3 * side(f + 4)],
      waist: [3 + 2 * give(f - 4) + 16 * bow(f - 3), -5 * w, 2 * s],
      chest: [3 + 2.5 * give(f - 6) + 15 * bow(f - 5), -8 * swing(f - 5), 2 * side(f - 4)],
      neck: [2 + 2 * give(f - 9) + 10 * bow(f + 3), 4 * swing(f - 7), 0],
      head: [
        1 + 2 * give(f - 11) + 12 * bow(f + 6),
        3 * swing(f - 9) +
          4 *
            val(f, [
              [206, 0],
              [222, 1],
              [240, 1],
            ]),
        3 *
          val(f, [
            [206, 0],
            [224, 1],
            [240, 1],
          ]),
      ],
      clavL: [3 * swing(f - 4), -2 * give(f - 8)],
      clavR: [-3 * swing(f - 4), -2 * give(f - 9)],
      armL: [
        4 - 19 * swing(f - 6) + 26 * bow(f - 6),
        0,
        9 + 2 * give(f - 8),
        16 + 8 * (1 - swing(f - 12)) + 12 * bow(f - 10),
      ],
      armR: [
        4 + 19 * swing(f - 6) * (bad ? -1 : 1) + 44 * bow(f - 9),
        0,
        10 + 2 * give(f - 9),
        18 + 8 * (1 + swing(f - 12)) + 26 * bow(f - 13),
      ],
      handL: [6 - 5 * swing(f - 16) + 6 * bow(f - 14), 0, 0],
      handR: [6 + 5 * swing(f - 16) + 8 * bow(f - 17), 0, 0],
      footL: foot("L", f),
      footR: foot("R", f),
    });
    lookAt(
      p,
      COTTAGE,
      val(f, [
        [172, 0],
        [206, 1],
        [240, 1],
      ]),
    );
  });
  const things = [
    cameraNode("cam_field", [-27, 1.7, 6], [0, bad ? 4.3 : 5.9, 6], 1),
    {
      id: "cottage",
      translation: COTTAGE,
      shapes: [{ kind: "box", size: [4, 2.4, 3], centre: [0, 1.2, 0] }],
    },
  ];
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 1,
    shot: { stage: "splining" },
    things,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.06, place: 0.006 }) }],
    more: {
      figures: [{ id: "gigante", stature: H, parts: partsOf(n) }],
      surfaces: [{ id: "campo", normal: [0, 1, 0], height: 0 }],
      contacts: [
        ["L", 1, 34],
        ["L", bad ? 45 : 64, 108],
        ["L", 136, END],
        ["R", 22, 72],
        ["R", 100, END],
      ].map(([s, a, b]) => ({ node: n(`ball${s}`), with: "campo", frames: [a, b] })),
      props: [{ node: "cottage" }],
      gazes: [{ figure: "gigante", at: "cottage", frames: [210, END] }],
      cameras: [{ id: "campo_baixo", node: "cam_field", verticalFieldOfView: 34, aspect: 1.7778 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  drop(curvesOf(doc, ["thighR", "shinR", "footR"].map(n)), [182, 194]);
  hold(curvesOf(doc, ["head", "neck"].map(n)), [172, 196]);
  return tidy(doc);
}
export const flaws = [
  {
    what: "The second step shoots forward in ten frames, as of a man of normal size; a leg of five metres needs a second.",
    kind: "too quick for its size",
    size: "strong",
    nodes: ["thighL", "shinL", "footL", "ballL"].map(n),
    frames: [35, 46],
    order: 1,
  },
  {
    what: "He walks with no weight, the hips do not sink into any step.",
    kind: "landing without give",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [22, 145],
    order: 2,
  },
  {
    what: "Both arms swing forward together.",
    kind: "twinning",
    size: "ordinary",
    nodes: [n("armL"), n("armR")],
    frames: [1, 150],
    order: 3,
  },
  {
    what: "The top of his head is out of picture in the walk, the camera is tilted too low.",
    kind: "cut by frame edge",
    size: "ordinary",
    nodes: ["cam_field", n("crown")],
    frames: [1, 170],
    order: 4,
  },
  {
    what: "Right foot creeps while he bends.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighR", "shinR", "footR"].map(n),
    frames: [180, 196],
    order: 5,
  },
  {
    what: "Head and neck wait while the body goes down, and only then jump to the cottage.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: [n("head"), n("neck")],
    frames: [172, 197],
    order: 6,
  },
];
export const truth = {
  plants: [
    ["L", 1, 34],
    ["L", 64, 108],
    ["L", 136, END],
    ["R", 22, 72],
    ["R", 100, END],
  ].map(([s, a, b]) => ({
    node: n(`ball${s}`),
    frames: [Number(a) + (Number(a) > 1 ? 8 : 0), b],
    limit: 0.02,
  })),
  ground: { nodes: ["ballL", "ballR", "toeL", "toeR"].map(n), height: 0, under: 0.025 },
  masses: masses(rig, n),
  balance: [{ frames: [150, END], feet: ["ballL", "ballR", "footL", "footR"].map(n), margin: 0.2 }],
  picture: { nodes: ["crown", "ballL", "ballR", "handL", "handR"].map(n), frames: [1, END] },
};
