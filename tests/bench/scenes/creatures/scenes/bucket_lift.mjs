// @ts-check
// A man with one arm lifts a bucket.
import { masses, names, person } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, tidy } from "../kit/edits.mjs";
import { lookAt, partsOf, strike } from "../kit/people.mjs";
import { ease } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "bucket_lift";
export const about =
  "A man who has only his right arm bends for a bucket of water beside him, takes the strain, and stands up with it. He leans away from its weight and looks ahead.";

const END = 100;
const rig = person(1.76, { mass: 78, arms: ["R"] });
const n = names({
  L: "Left",
  R: "Right",
  hips: "Base",
  waist: "Spine",
  chest: "Ribs",
  neck: "Nape",
  head: "Face",
  crown: "FaceTop",
  "thigh*": "Leg*Upper",
  "shin*": "Leg*Lower",
  "foot*": "Ankle*",
  "ball*": "Ball*",
  "toe*": "Toe*",
  "clav*": "Collar*",
  "arm*": "Arm*Upper",
  "fore*": "Arm*Lower",
  "hand*": "Wrist*",
  "tip*": "Grip*",
});
const GRIP = 0.15;
const TALL = 0.34;
const GROUND = [-0.4, TALL + GRIP, 0.13];

/** @param {boolean} bad */
function build(bad) {
  const down = (/** @type {number} */ f) =>
    val(
      f,
      bad
        ? [
            [6, 0],
            [10, -0.04],
            [32, 1],
            [38, 0.97],
            [46, 0.99],
            [53, 0.06],
            [58, -0.015],
            [66, 0],
          ]
        : [
            [6, 0],
            [10, -0.04],
            [32, 1],
            [38, 0.97],
            [46, 0.99],
            [51, 0.93],
            [57, 0.72],
            [72, 0.08],
            [80, -0.015],
            [88, 0],
          ],
    );
  const lean = (/** @type {number} */ f) =>
    (bad ? 0.06 : 1) *
    val(f, [
      [40, 0],
      [47, 0.25],
      [58, 0.7],
      [72, 1.12],
      [84, 1],
    ]);
  const lift = (/** @type {number} */ f) => (bad ? ease((f - 46) / 6) : ease((f - 50) / 23));
  const twist = (/** @type {number} */ f) =>
    val(f, [
      [8, 0],
      [30, 1],
      [48, 1],
      [74, 0],
    ]);
  /** @type {number[][]} */ const wrists = [];
  const take = perform(rig, [1, END], (p, f) => {
    const d = down(f);
    const e = lean(f);
    const t = twist(f);
    strike(p, {
      hips: [-0.005 - 0.055 * t * d + 0.05 * e, 0.855 - 0.25 * d - 0.006 * e, -0.015 - 0.145 * d],
      hipsR: [34 * d, -14 * t, 3 * e],
      waist: [
        22 *
          (bad
            ? down(f + 1)
            : val(f + 1, [
                [6, 0],
                [10, -0.04],
                [32, 1],
                [48, 1],
                [72, 0.06],
                [80, 0],
              ])),
        -8 * t,
        10 * t * d - 7 * e,
      ],
      chest: [18 * down(f - 2), -8 * t, 8 * t * d - 6 * e],
      neck: [-14 * d + 4, -6 * t, 5 * e],
      head: [
        val(f, [
          [4, 2],
          [9, 12],
          [32, -4],
          [46, -2],
          [56, -16],
          [70, -2],
          [82, 0],
        ]),
        val(f, [
          [2, 0],
          [9, -28],
          [30, -18],
          [48, -12],
          [62, 2],
          [74, 0],
        ]),
        3 * e +
          3 *
            val(f, [
              [40, 0],
              [48, 1],
              [62, 1],
              [74, 0],
            ]),
      ],
      clavR: [
        0,
        -4 *
          val(f, [
            [40, 0],
            [50, 1],
            [100, 1],
          ]),
      ],
      armR: [0, 0, 0, 0],
      footL: { at: [0.15, 0, 0.11], yaw: 10, out: 14 },
      footR: { at: [-0.15, 0, 0.09], yaw: -12, out: 14 },
    });
    if (!bad)
      lookAt(
        p,
        [GROUND[0], 0, GROUND[2]],
        val(f, [
          [2, 0],
          [18, 1],
          [40, 1],
          [46, 0.9],
          [62, 0],
        ]),
      );
    const s = p.world("armR").p;
    const hang = [s[0] - 0.05 - 0.05 * e, s[1] - 0.529, s[2] + 0.03];
    const free = [s[0] - 0.055, s[1] - 0.518, s[2] + 0.05 - 0.02 * d];
    const to = ease((f - 8) / 30);
    const w = lift(f);
    const goal =
      f < 40
        ? free.map((v, i) => v + (GROUND[i] - v) * to + (i === 1 ? 0.05 * Math.sin(Math.PI * to) * to : 0))
        : GROUND.map((v, i) => v + (hang[i] - v) * w);
    // An arm that is stretched takes the wrist along; before that the wrist stays where it is.
    const flat = Math.hypot(goal[0] - s[0], goal[2] - s[2]);
    const taut = s[1] - Math.sqrt(Math.max(0, 0.536 ** 2 - flat ** 2));
    if (f >= 40 && !bad) goal[1] = GROUND[1];
    goal[1] = Math.max(goal[1], taut) + Math.max(0, 0.075 - Math.abs(goal[1] - taut)) ** 2 / 0.3;
    p.reach("armR", "foreR", "handR", goal, [-0.4, 0, -1]);
    const grip = val(f, [
      [12, 0],
      [32, 1],
      [100, 1],
    ]);
    p.face("handR", [
      Math.sin((-(1 - grip) * 6 * Math.PI) / 360),
      0,
      0,
      Math.cos((-(1 - grip) * 6 * Math.PI) / 360),
    ]);
    wrists[f] = p.world("handR").p;
  });
  const doc = makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "polish" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.11, place: 0.001 }) }],
    things: [
      {
        id: "bucket",
        translation: GROUND.map((v, i) => Number(((i === 1 ? 0 : v) * 100).toFixed(3))),
        shapes: [{ kind: "capsule", radius: 13, from: [0, 13, 0], to: [0, 16, 0] }],
      },
    ],
    more: {
      figures: [{ id: "man", stature: 1.76, parts: partsOf(n, ["R"]) }],
      surfaces: [{ id: "yard", normal: [0, 1, 0], height: 0 }],
      contacts: [
        { node: n("ballL"), with: "yard", frames: [1, END] },
        { node: n("ballR"), with: "yard", frames: [1, END] },
        { node: "bucket", with: "yard", frames: [1, bad ? 46 : 49] },
      ],
      props: [{ node: "bucket", mass: 9, heldBy: [{ node: n("handR"), frames: [40, END] }] }],
      gazes: [{ figure: "man", at: "bucket", frames: [18, 40] }],
    },
  });
  for (const [i, c] of [..."xyz"].entries()) {
    const keys = [];
    for (let f = 40; f <= END; f++) {
      // In the flawed version the bucket runs after the hand.
      const v =
        wrists[bad && f > 56 ? Math.max(56, f - 3) : f][i] +
        (i === 1 ? -GROUND[1] - (bad ? 0.05 * ease((f - 62) / 16) : 0) : 0);
      keys.push([f, Number((v * 100).toFixed(3))]);
    }
    doc.curves.push({ node: "bucket", channel: `translation.${c}`, keys });
  }
  return doc;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const s of ["L", "R"]) {
    bump(doc, n(`shin${s}`), "rotation.x", 60, -10);
    bump(doc, n(`thigh${s}`), "rotation.x", 60, 5);
  }
  for (const c of curvesOf(doc, [n("head"), n("neck")], "rotation.y"))
    c.keys = [
      [1, 0],
      [8, 0],
      [18, 24],
      [40, 24],
      [60, 0],
    ];
  return tidy(doc);
}
export const flaws = [
  {
    what: "Ten litres of water leave the ground at once and are up in six frames, he takes no strain.",
    kind: "heavy thing flies up",
    size: "strong",
    nodes: ["bucket", n("handR")],
    frames: [46, 53],
    order: 1,
  },
  {
    what: "He does not lean away from the bucket, it hangs from a man who stands as if his hand were empty.",
    kind: "weight not over feet",
    size: "ordinary",
    nodes: ["hips", "waist", "chest"].map(n),
    frames: [50, 100],
    order: 2,
  },
  {
    what: "The bucket slides down out of his grip from 57 on and runs after the hand.",
    kind: "hand slips on thing",
    size: "ordinary",
    nodes: ["bucket"],
    frames: [57, 80],
    order: 3,
  },
  {
    what: "He looks to his left while he reaches for the bucket on his right.",
    kind: "eyes miss their mark",
    size: "ordinary",
    nodes: [n("head"), n("neck")],
    frames: [10, 46],
    order: 4,
  },
  {
    what: "Both knees snap straight for a frame at 60.",
    kind: "knees snap",
    size: "barely",
    nodes: ["thighL", "shinL", "thighR", "shinR"].map(n),
    frames: [58, 62],
    order: 5,
  },
];
export const truth = {
  plants: [
    { node: n("ballL"), frames: [1, END] },
    { node: n("ballR"), frames: [1, END] },
    { node: n("footL"), frames: [1, END] },
    { node: n("footR"), frames: [1, END] },
    { node: n("handR"), frames: [40, 47], limit: 0.008 },
  ],
  ground: { nodes: [n("ballL"), n("ballR")], height: 0 },
  masses: masses(rig, n),
  balance: [{ frames: [1, END], feet: ["ballL", "ballR", "footL", "footR"].map(n), margin: 0.015 }],
};
