// @ts-check
// A cat leaps on a wall.
import { beast, foreOf, hindOf, masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curvesOf, erase, hold, tidy } from "../kit/edits.mjs";
import { centreAt } from "../kit/rig.mjs";
import { footAt, paw } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "cat_leaps";
export const about =
  "A cat measures the height of a garden wall, crouches, and leaps on it, forepaws first. It gathers itself and its tail swings after.";

const END = 92;
const HIP = 0.27;
const WALL = 0.62;
const OFF = 40;
const ON = 50;
const G = 9.81 / 24 / 24;
const rig = beast({
  hip: HIP,
  body: 0.27,
  mass: 4.5,
  wide: 0.045,
  neck: [0, 0.06, 0.06],
  head: [0, -0.01, 0.07],
  tail: [0, 0, -0.065],
  tails: 6,
  hind: [0.46, 0.5, 0.36],
  fore: [0.46, 0.5, 0.2],
});
const n = names({
  L: "_L",
  R: "_R",
  hips: "Katze_Becken",
  loin: "Katze_Ruecken",
  chest: "Katze_Brust",
  neck: "Katze_Hals",
  head: "Katze_Kopf",
  nose: "Katze_Nase",
  "thigh*": "Hinterbein*",
  "shin*": "Hinterknie*",
  "hock*": "Hinterferse*",
  "hoof*": "Hinterpfote*",
  "upper*": "Vorderbein*",
  "lower*": "Ellbogen*",
  "wrist*": "Vorderfuss*",
  "pad*": "Vorderpfote*",
  ...Object.fromEntries([1, 2, 3, 4, 5, 6].map((i) => [`tail${i}`, `Schwanz_${i}`])),
});
const Y0 = 0.36;
const VY = 0.141;
const Z0 = 0.18;
const VZ = 0.09;
/** The centre of mass. @param {number} f @param {boolean} bad */
function centre(f, bad) {
  const low = bad ? 0.22 : 0.18;
  const squat = bad
    ? val(f, [
        [1, 0.235],
        [33, 0.235],
        [35, low],
      ])
    : val(f, [
        [1, 0.235],
        [10, 0.238],
        [24, low + 0.012],
        [27, low + 0.004],
        [30, low + 0.008],
        [35, low],
      ]);
  const back = bad
    ? val(f, [
        [1, 0.015],
        [35, 0.01],
      ])
    : val(f, [
        [1, 0.015],
        [10, 0.02],
        [24, -0.01],
        [35, -0.02],
      ]);
  if (f <= 36) return [squat, back];
  if (f < OFF) {
    const u = (f - 36) / 4;
    return [
      low + (Y0 - low) * u ** ((VY * 4) / (Y0 - low)),
      back + (Z0 - back) * u ** ((VZ * 4) / (Z0 - back)),
    ];
  }
  const g = bad ? 0.62 : 1;
  const fly = (/** @type {number} */ t) => [
    Y0 + (VY - (1 - g) * G * 5) * t - (g * G * t * t) / 2,
    Z0 + VZ * t,
  ];
  if (f <= ON) return fly(f - OFF);
  const [y, z] = fly(ON - OFF);
  const [y1, z1] = fly(ON - OFF - 1);
  return [
    val(f, [
      [ON - 1, y1],
      [ON, y],
      [54, WALL + 0.165],
      [58, WALL + 0.185],
      [65, WALL + 0.232],
      [73, WALL + 0.228],
    ]),
    val(f, [
      [ON - 1, z1],
      [ON, z],
      [53, z + 0.17],
      [60, z + 0.215],
      [70, z + 0.205],
    ]),
  ];
}

/** @param {boolean} bad */
function build(bad) {
  const zEnd = centre(END, false)[1];
  const hind = (/** @type {number} */ x, /** @type {number} */ late) => [
    { from: -9, to: OFF, at: [x, 0, -0.05 - late * 0.01] },
    { from: 57 + late, to: 999, at: [x * 0.9, WALL - (bad ? 0.03 : 0), zEnd - 0.115 + late * 0.012] },
  ];
  const fore = (/** @type {number} */ x, /** @type {number} */ late) => [
    { from: -9, to: 35 + late * 0.5, at: [x, 0, 0.17] },
    { from: ON + late, to: 999, at: [x * 0.9, WALL, zEnd + 0.07 - late * 0.015] },
  ];
  const plants = {
    hindL: hind(0.045, 0),
    hindR: hind(-0.045, 1),
    foreL: fore(0.04, 1),
    foreR: fore(-0.04, 0),
  };
  const pitch = (/** @type {number} */ f) =>
    val(f, [
      [1, 0],
      [14, 0],
      [24, 8],
      [35, 9],
      [38, -12],
      [40, -36],
      [43, -46],
      [50, -4],
      [55, 6],
      [62, -2],
      [70, 0],
    ]);
  const arch = (/** @type {number} */ f) =>
    val(f, [
      [1, 0],
      [24, 8],
      [35, 10],
      [40, -12],
      [44, -10],
      [52, 16],
      [60, 10],
      [68, 1],
      [76, 0],
    ]);
  const eye = (/** @type {number} */ f) =>
    val(f, [
      [1, -4],
      [5, -2],
      [12, -34],
      [22, -30],
      [35, -32],
      [41, 6],
      [50, 10],
      [56, 4],
      [66, -6],
      [78, 2],
      [84, 0],
    ]);
  const wag = (/** @type {number} */ f) =>
    Math.sin(f / 4) *
    val(f, [
      [20, 0],
      [26, 1],
      [32, 1],
      [36, 0],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const a = arch(f);
    const q = pitch(f);
    p.rot("hips", q + a, 3 * wag(f), 4 * wag(f - 1));
    p.rot("loin", -a * 0.9, -2 * wag(f), 0);
    p.rot("chest", -a * 0.8, -1.5 * wag(f), 0);
    p.rot(
      "neck",
      -14 + eye(f) * 0.5 - pitch(f - 1) * 0.5,
      val(f, [
        [64, 0],
        [76, 18],
        [92, 18],
      ]),
      0,
    );
    p.rot(
      "head",
      12 + eye(f + 1) * 0.5 - pitch(f - 2) * 0.35,
      val(f, [
        [63, 0],
        [74, 24],
        [92, 24],
      ]),
      0,
    );
    for (let i = 1; i <= 6; i++) {
      const g = f - 2.2 * i;
      p.rot(
        `tail${i}`,
        [-8, 8, 6, 2, -4, -10][i - 1] +
          (pitch(f) - pitch(g)) * -0.22 +
          val(g, [
            [30, 0],
            [42, 8],
            [52, -14],
            [62, 13],
            [72, -6],
            [82, 2],
            [90, 0],
          ]),
        3 * Math.sin(g / 8) + 4 * wag(g),
        0,
      );
    }
    const legs = () => {
      for (const s of ["L", "R"]) {
        const h = footAt(plants[/** @type {'hindL'} */ (`hind${s}`)], f, 0.2, 0.85);
        const hip = p.world(`thigh${s}`).p;
        const away =
          f > OFF && f < 56
            ? val(f, [
                [OFF, 0],
                [44, 1],
                [50, 1],
                [56, 0],
              ])
            : 0;
        paw(
          p,
          hindOf(s),
          pull(hip, h.at, HIP * 1.28),
          2 + 120 * Math.max(-0.3, Math.min(0.3, hip[2] - h.at[2])) * (1 - away) + 55 * away,
          [0, 0.25, 1],
        );
        const g = footAt(plants[/** @type {'foreL'} */ (`fore${s}`)], f, 0.16, 0.85);
        const sh = p.world(`upper${s}`).p;
        const curl = val(f, [
          [35, 0],
          [40, 1],
          [46, 0.6],
          [50, 0],
        ]);
        paw(
          p,
          foreOf(s),
          pull(sh, g.at, HIP * 1.12),
          60 * Math.max(-0.3, Math.min(0.3, sh[2] - g.at[2])) + 40 * curl,
          [0, -0.3, -1],
        );
      }
    };
    const [y, z] = centre(f, bad);
    centreAt(p, [0.008 * wag(f), y, z], legs);
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "splining" },
    things: [
      {
        id: "Mauer",
        translation: [0, 0, 0],
        shapes: [
          { kind: "box", size: [160, WALL * 100, 60], centre: [0, WALL * 50, (zEnd - 0.19) * 100 + 30] },
        ],
      },
    ],
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.15, place: 0.0006 }) }],
    more: {
      figures: [
        {
          id: "Katze",
          parts: { root: n("hips"), head: n("head") },
          limbs: [
            ...["L", "R"].flatMap((s) =>
              [hindOf(s), foreOf(s)].map((leg, i) => ({
                id: `${i ? "fore" : "hind"} ${s}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: leg.map(n),
                sole: { toe: n(leg[3]), thickness: 0 },
              })),
            ),
            { id: "tail", kind: "tail", nodes: [1, 2, 3, 4, 5, 6].map((i) => n(`tail${i}`)) },
          ],
        },
      ],
      surfaces: [
        { id: "lawn", height: 0 },
        {
          id: "top",
          height: WALL * 100,
          edges: [
            [-80, (zEnd - 0.19) * 100],
            [80, (zEnd + 0.41) * 100],
          ],
        },
      ],
      contacts: ["L", "R"].flatMap((s) => [
        { node: n(`hoof${s}`), with: "lawn", frames: [1, OFF] },
        { node: n(`pad${s}`), with: "lawn", frames: [1, 35] },
        { node: n(`hoof${s}`), with: "top", frames: [58, END] },
        { node: n(`pad${s}`), with: "top", frames: [51, END] },
      ]),
      props: [{ node: "Mauer" }],
    },
  });
}
/** Brings a far goal softly within reach. @param {number[]} from @param {number[]} goal @param {number} most */
function pull(from, goal, most) {
  const d = Math.hypot(...goal.map((v, i) => v - from[i]));
  return d <= most ? goal : goal.map((v, i) => from[i] + ((v - from[i]) * most) / d);
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  erase(
    doc,
    [2, 3, 4, 5, 6].map((i) => n(`tail${i}`)),
  );
  hold(curvesOf(doc, ["neck", "head"].map(n)), [34, 47]);
  return tidy(doc);
}
export const flaws = [
  {
    what: "It stands and is off, no crouch, nothing loads the hind legs for a leap of twice its height.",
    kind: "no anticipation",
    size: "strong",
    nodes: ["hips", "thighL", "thighR"].map(n),
    frames: [10, 36],
    order: 1,
  },
  {
    what: "It floats up to the wall on a flat arc, gravity is far too weak.",
    kind: "wrong gravity",
    size: "ordinary",
    nodes: [n("hips")],
    frames: [40, 51],
    order: 2,
  },
  {
    what: "The hind paws stand three centimetres deep in the top of the wall.",
    kind: "foot sinks",
    size: "ordinary",
    nodes: ["hoofL", "hoofR"].map(n),
    frames: [55, 92],
    order: 3,
  },
  {
    what: "The tail is a rod from its second joint on.",
    kind: "tail dead",
    size: "ordinary",
    nodes: [2, 3, 4, 5, 6].map((i) => n(`tail${i}`)),
    frames: [1, 92],
    order: 4,
  },
  {
    what: "Neck and head are stiff through the leap and let go in one frame at 48.",
    kind: "head stiff",
    size: "ordinary",
    nodes: ["neck", "head"].map(n),
    frames: [34, 48],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) => [
    // Half frames of the push are coarse; at whole frames the paws stand.
    { node: n(`hoof${s}`), frames: [1, OFF], limit: 0.016 },
    { node: n(`pad${s}`), frames: [1, 35] },
    { node: n(`hoof${s}`), frames: [58, END] },
    { node: n(`pad${s}`), frames: [51, END] },
  ]),
  air: [{ frames: [OFF, ON] }],
  ground: { nodes: ["hoofL", "hoofR", "padL", "padR"].map(n), height: 0, under: 0.016 },
  masses: masses(rig, n),
  balance: [
    { frames: [1, 36], feet: ["hoofL", "hoofR", "padL", "padR"].map(n) },
    { frames: [58, END], feet: ["hoofL", "hoofR", "padL", "padR"].map(n) },
  ],
};
