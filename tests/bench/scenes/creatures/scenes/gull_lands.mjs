// @ts-check
// A gull glides in and lands.
import { masses, names } from "../kit/bodies.mjs";
import { cameraNode } from "../kit/camera.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, drop } from "../kit/edits.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "gull_lands";
export const about =
  "A gull glides in low, flares with three back strokes, and lands on a jetty. It folds its wings and looks about; seen from the side by a still camera.";

const END = 108;
const TOUCH = 57;
const STAND = 0.27;
const rig = makeRig(
  /** @type {any} */ ([
    ["body", null, [0, STAND, 0], 0.5, "yxz"],
    ["breast", "body", [0, 0.01, 0.12], 0.3],
    ["neck", "breast", [0, 0.04, 0.07], 0.04],
    ["head", "neck", [0, 0.06, 0.03], 0.06],
    ["bill", "head", [0, -0.01, 0.07], 0],
    ["tail", "body", [0, 0.01, -0.14], 0.02],
    ["tailEnd", "tail", [0, 0, -0.13], 0],
    ...bothSides([
      ["wing*", "breast", [0.05, 0.05, 0], 0.05, "yzx"],
      ["arm*", "wing*", [0.16, 0, -0.02], 0.03, "yzx"],
      ["palm*", "arm*", [0.2, 0, 0.01], 0.02, "yzx"],
      ["tip*", "palm*", [0.26, 0, -0.04], 0],
      ["thigh*", "body", [0.04, -0.04, 0.02], 0.02, "xzy"],
      ["shin*", "thigh*", [0, -0.09, 0], 0.01, "xzy"],
      ["foot*", "shin*", [0, -0.09, 0], 0.01, "xzy"],
      ["toe*", "foot*", [0, -0.07, 0], 0],
    ]),
  ]),
);
const n = names(
  {
    L: "left",
    R: "right",
    body: "torso",
    breast: "keel",
    bill: "bill_tip",
    tail: "tail_fan",
    tailEnd: "tail_fan_tip",
    "wing*": "*_humerus",
    "arm*": "*_ulna",
    "palm*": "*_hand",
    "tip*": "*_primary",
    "thigh*": "*_thigh",
    "shin*": "*_shank",
    "foot*": "*_tarsus",
    "toe*": "*_toes",
  },
  "gull/",
);

/** @param {boolean} bad */
function build(bad) {
  const z = (/** @type {number} */ f) =>
    val(f, [
      [1, -6.5],
      [16, -3.95],
      [31, -1.55],
      [40, -0.55],
      [48, -0.2],
      [TOUCH, -0.06],
      [63, -0.035],
      [70, -0.075],
      [78, -0.07],
    ]);
  const give = bad
    ? [
        [TOUCH, STAND],
        [70, STAND],
      ]
    : [
        [TOUCH, STAND - 0.025],
        [61, STAND - 0.1],
        [70, STAND + 0.004],
        [78, STAND - 0.005],
      ];
  const y = (/** @type {number} */ f) =>
    val(
      f,
      /** @type {any} */ ([[1, 1.75], [16, 1.3], [29, 0.84], [35, 0.76], [43, 0.83], [49, 0.63], ...give]),
    ) -
    0.03 *
      Math.sin(((f - 41) / 8) * 2 * Math.PI) *
      val(f, [
        [34, 0],
        [40, 1],
        [52, 1],
        [TOUCH, 0],
      ]);
  const pitch = (/** @type {number} */ f) =>
    val(f, [
      [1, 5],
      [22, 2],
      [31, -6],
      [43, -52],
      [50, -58],
      [TOUCH, -38],
      [63, 4],
      [71, -12],
      [78, -10],
      [108, -10],
    ]);
  const fold = (/** @type {number} */ f) =>
    val(f, [
      [62, 0],
      [78, 1.03],
      [83, 1],
      [108, 1],
    ]);
  // Wing beat: down strokes at 40, 48 and 56, 40 being the middle of one.
  const beat = (/** @type {number} */ f) =>
    val(f, [
      [31, 0.12],
      [37, 1],
      [42, -0.75],
      [46, 0.95],
      [50, -0.7],
      [54, 0.85],
      [58, -0.4],
      [63, 0.75],
      [72, 0.2],
      [78, 0],
    ]);
  const reach = (/** @type {number} */ f) =>
    val(f, [
      [34, 0],
      [52, 0.94],
      [TOUCH, 1],
      [108, 1],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const a = pitch(f);
    const glide = val(f, [
      [1, 1],
      [28, 1],
      [36, 0],
    ]);
    const look = val(f, [
      [84, 0],
      [88, 1],
      [97, 1.04],
      [101, -0.7],
      [108, -0.74],
    ]);
    p.move("body", 0, y(f), z(f));
    p.rot("body", a, 0, (3 * Math.sin(f / 11) + 2) * glide);
    p.rot("breast", -6 + 0.1 * a, 0, 0);
    p.rot("neck", -8 - 0.42 * a, 12 * look, 0);
    p.rot(
      "head",
      14 -
        0.44 * a -
        2 *
          Math.sin(((f - 42) / 8) * 2 * Math.PI) *
          val(f, [
            [36, 0],
            [42, 1],
            [52, 1],
            [58, 0],
          ]),
      30 * look,
      0,
    );
    p.rot(
      "tail",
      val(f, [
        [26, -4],
        [40, 34],
        [54, 38],
        [64, -8],
        [73, 2],
        [78, 0],
      ]) +
        3 * fold(f - 4),
      0,
      0,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const c = fold(f - (s === "L" ? 0 : 1.5));
      const b = (/** @type {number} */ t) => 9 * glide + 46 * beat(t);
      p.r[`wing${s}`] = [
        -8 * beat(f) - 16 * c,
        k * (-8 * (1 - glide) * (1 - c) + 74 * c),
        k * (b(f) * (1 - c) - 14 * c),
      ];
      p.r[`arm${s}`] = [
        0,
        k * -(14 * beat(f - 1) + 16) * (1 - c) - k * 146 * c,
        k * (-6 * glide + 14 * beat(f - 1.5)) * (1 - c),
      ];
      p.r[`palm${s}`] = [
        0,
        k * (22 + 10 * beat(f - 2)) * (1 - c) + k * 152 * c,
        k * (bad ? 0 : -5 * glide + 22 * beat(f - 2.5)) * (1 - c),
      ];
      const r = reach(f);
      const tuck = p.point("body", [k * 0.04, -0.09, -0.13]);
      const ahead = p.point("body", [k * 0.04, -0.2, 0.03]);
      const spot = [k * 0.045, bad && s === "L" ? 0.02 : 0, 0.0];
      const air = val(f, [
        [51, 0],
        [TOUCH, 1],
      ]);
      const free = tuck.map((v, i) => v + (ahead[i] - v) * Math.min(1, r));
      const goal = free.map((v, i) => v + (spot[i] - v) * air);
      goal[1] = Math.max(goal[1], 0);
      const lean = val(f, [
        [34, 70],
        [52, -14],
        [TOUCH, -8],
        [61, 24],
        [70, -6],
        [78, -4],
      ]);
      const q = [Math.sin((lean * Math.PI) / 360), 0, 0, Math.cos((lean * Math.PI) / 360)];
      const l = (lean * Math.PI) / 180;
      p.reach(
        `thigh${s}`,
        `shin${s}`,
        `foot${s}`,
        [goal[0], goal[1] + 0.07 * Math.cos(l), goal[2] + 0.07 * Math.sin(l)],
        [0, 0.3, 1],
      );
      p.face(`foot${s}`, q);
    }
  });
  const cam = cameraNode(
    "jetty_cam",
    bad ? [8.5, 1.1, -4.5] : [9, 1.1, -2.9],
    bad ? [0, 1.05, -4.5] : [0, 1.05, -2.9],
    0.01,
  );
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "splining" },
    things: [cam],
    bodies: [{ rig, name: n, curves: keyed(take, { how: "cubic", turn: 0.3, place: 0.0015 }) }],
    more: {
      figures: [
        {
          id: "gull",
          parts: { root: n("body"), head: n("head") },
          limbs: ["L", "R"].flatMap((s) => {
            const side = s === "L" ? "left" : "right";
            return [
              {
                id: `${side} wing`,
                kind: "wing",
                side,
                nodes: ["wing", "arm", "palm", "tip"].map((j) => n(j + s)),
              },
              {
                id: `${side} leg`,
                kind: "leg",
                side,
                nodes: ["thigh", "shin", "foot", "toe"].map((j) => n(j + s)),
                sole: { toe: n(`toe${s}`), thickness: 0 },
              },
            ];
          }),
        },
      ],
      propulsors: [{ figure: "gull", nodes: [n("wingL"), n("wingR")], channel: "rotation.z" }],
      surfaces: [{ id: "jetty", normal: [0, 1, 0], height: 0 }],
      contacts: ["L", "R"].map((s) => ({ node: n(`toe${s}`), with: "jetty", frames: [TOUCH, END] })),
      cameras: [{ id: "main", node: "jetty_cam", verticalFieldOfView: 34, aspect: 1.7778 }],
    },
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  drop(curvesOf(doc, ["wingR", "armR", "palmR"].map(n), "rotation"), [40, 52]);
  return doc;
}
export const flaws = [
  {
    what: "The right wing has lost its first strokes, it hangs there while the left one beats, 40 to 52.",
    kind: "keys missing",
    size: "strong",
    nodes: ["wingR", "armR", "palmR"].map(n),
    frames: [39, 53],
    order: 1,
  },
  {
    what: "It sets down like on a shelf, the legs take nothing and the body does not sink on touchdown.",
    kind: "landing without give",
    size: "ordinary",
    nodes: [n("body")],
    frames: [57, 66],
    order: 2,
  },
  {
    what: "Framed so that the gull lands half out of the left of picture, its head is cut off for the whole end of the shot.",
    kind: "cut by frame edge",
    size: "ordinary",
    nodes: ["jetty_cam", n("head")],
    frames: [50, 108],
    order: 3,
  },
  {
    what: "The hands of the wings are boards, they should trail the beat and bend on the up stroke.",
    kind: "no drag",
    size: "ordinary",
    nodes: [n("palmL"), n("palmR")],
    frames: [34, 66],
    order: 4,
  },
  {
    what: "The left foot stands two centimetres above the planks.",
    kind: "foot floats",
    size: "barely",
    nodes: ["thighL", "shinL", "footL", "toeL"].map(n),
    frames: [57, 108],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].map((s) => ({ node: n(`toe${s}`), frames: [TOUCH, END] })),
  ground: { nodes: [n("toeL"), n("toeR")], height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [74, END], feet: [n("toeL"), n("toeR")], margin: 0.09 }],
  picture: { nodes: [n("head"), n("tailEnd"), n("bill")], frames: [6, END] },
};
