import { masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bothSides, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { retime } from "../../slips.mjs";
import { chain, loose, one, paddle, played, tracks } from "../kit/stage.mjs";

export const name = "stork_lands";
export const about =
  "A stork glides in low over a meadow, rears up and brakes with three strokes, takes the ground with two running steps, folds its wings and stands.";

const FPS = 30;
const RANGE = [1001, 1126];
const S = 1000;
const rig = makeRig([
  ["body", null, [0, 0.6, 0], 1.6],
  ["breast", "body", [0, 0.02, 0.2], 0.7],
  ["neck1", "breast", [0, 0.08, 0.1], 0.1],
  ["neck2", "neck1", [0, 0.13, 0.08], 0.08],
  ["neck3", "neck2", [0, 0.13, 0.05], 0.06],
  ["head", "neck3", [0, 0.1, 0.04], 0.12],
  ["bill", "head", [0, -0.02, 0.22]],
  ["tail", "body", [0, 0.01, -0.16], 0.05],
  ["tailTip", "tail", [0, -0.01, -0.17]],
  ...bothSides([
    ["humerus*", "breast", [0.07, 0.05, -0.02], 0.12, "yzx"],
    ["ulna*", "humerus*", [0.24, 0, -0.05], 0.08, "yzx"],
    ["manus*", "ulna*", [0.3, 0, 0.06], 0.04, "yzx"],
    ["primary*", "manus*", [0.24, 0, -0.05], 0.02, "yzx"],
    ["primaryTip*", "primary*", [0.24, 0, -0.06]],
    ["tibia*", "body", [0.05, -0.06, -0.02], 0.1, "xzy"],
    ["tarsus*", "tibia*", [0, -0.27, 0.02], 0.05, "xzy"],
    ["toes*", "tarsus*", [0, -0.31, -0.02], 0.02, "xzy"],
    ["claw*", "toes*", [0, -0.005, 0.08]],
  ]),
]);
const n = names(
  {
    L: "g",
    R: "d",
    body: "corpo",
    breast: "peito",
    neck1: "coll1",
    neck2: "coll2",
    neck3: "coll3",
    head: "cap",
    bill: "bec",
    tail: "cua",
    tailTip: "cua_fi",
    "humerus*": "ala1_*",
    "ulna*": "ala2_*",
    "manus*": "ala3_*",
    "primary*": "ala4_*",
    "primaryTip*": "ala_fi_*",
    "tibia*": "cuixa_*",
    "tarsus*": "tars_*",
    "toes*": "peu_*",
    "claw*": "urpa_*",
  },
  "cig_",
);
const k = (rows, how) =>
  one(
    rows.map(([f, ...v]) => [f + S, ...v]),
    how,
  );
const cubic = (rows) =>
  k(
    rows.map(([f, v, s]) => [f, v, { in: s, out: s }]),
    "cubic",
  );
// Two steps that run the speed out: when each foot is down, and where.
const STEPS = {
  L: [
    [84, 92.5, -0.33],
    [100, 126, 0.26],
  ],
  R: [
    [90, 99, 0.02],
    [108, 126, 0.2],
  ],
};
const goes = cubic([
  [1, -11.15, 0.175],
  [54, -2.55, 0.145],
  [70, -0.98, 0.07],
  [84, -0.34, 0.042],
  [94, 0.0, 0.027],
  [104, 0.175, 0.009],
  [114, 0.21, 0],
  [126, 0.21, 0],
]);
const rises = cubic([
  [1, 2.5, -0.03],
  [30, 1.72, -0.026],
  [52, 1.2, -0.016],
  [66, 1.02, -0.013],
  [76, 0.82, -0.02],
  [84, 0.655, -0.014],
  [90, 0.585, -0.003],
  [97, 0.592, 0.002],
  [106, 0.607, 0.0006],
  [116, 0.605, 0],
  [126, 0.605, 0],
]);
const pitch = k([
  [1, 2],
  [30, 3],
  [48, 1],
  [60, -22],
  [70, -40],
  [80, -36],
  [90, -14],
  [98, -4],
  [106, -10],
  [114, -8],
  [126, -8.4],
]);
// Strokes: the shoulder's up and down, with three beats of braking.
const beat = k([
  [1, 10],
  [20, 7],
  [40, 11],
  [56, 12],
  [63, 34],
  [69, -20],
  [74.5, 40],
  [79.5, -20],
  [85, 38],
  [90, -12],
  [97, 30],
  [112, 4],
  [126, 4],
]);
const fold = k([
  [1, 0],
  [88, 0],
  [93, 0.12],
  [112, 1.03],
  [118, 0.98],
  [126, 1],
]);
const spread = k([
  [1, -4],
  [50, -4],
  [62, 12],
  [84, 10],
  [96, 0],
  [126, 0],
]);
const fan = k([
  [1, 0],
  [50, -2],
  [62, 18],
  [82, 22],
  [96, 2],
  [126, 4],
]);

function build(bad) {
  const z = (f) =>
    bad && f > S + 54 && f < S + 88
      ? goes(S + 54) + ((goes(S + 88) - goes(S + 54)) * (f - S - 54)) / 34
      : goes(f);
  const flex = chain(RANGE, FPS, beat, 3, 6.2, 0.62);
  const sway = loose(RANGE, FPS, (f) => 3 * Math.sin((f - S) / 19), 2, 0.6);
  const level = loose(RANGE, FPS, pitch, 9, 0.9);
  const take = played(rig, RANGE, (p, f) => {
    const t = f - S;
    // In a stretch of the flawed one these are left where they were.
    const off = bad ? Math.max(0, Math.min(1, (t - 52) / 4, (98 - t) / 4)) : 0;
    // Each downstroke lifts it a little.
    const heave = t > 56 && t < 92 ? -0.0011 * (beat(f) - 8) * Math.min(1, (t - 56) / 6, (92 - t) / 6) : 0;
    const bank = t < 80 ? sway(f) * Math.min(1, (80 - t) / 20) : 0;
    p.move(
      "body",
      0.02 * bank * (t < 84 ? 1 : 0),
      rises(f) + heave * (t < 84 ? 1 : Math.max(0, (90 - t) / 6)),
      z(f),
    );
    p.rot("body", pitch(f), 0, bank * 1.6);
    p.rot("breast", -0.1 * pitch(f) - 2 + 0.06 * beat(f), 0, -0.3 * bank);
    p.rot("tail", (-fan(f) - 0.15 * pitch(f)) * (1 - off), 0, bank * 0.6);
    // In flight the neck is stretched ahead; it keeps the head where it looks, then rises to stand.
    const up = k([
      [1, 0],
      [62, 0],
      [84, 0.25],
      [100, 0.7],
      [114, 1.03],
      [126, 1],
    ])(f);
    const s = level(f) * (1 - off);
    p.rot("neck1", 56 - 0.4 * s - 66 * up + 8 * up, 0, 0);
    p.rot("neck2", 2 - 0.3 * s + 6 * up, 0, -0.3 * bank);
    p.rot("neck3", 2 - 0.2 * s + 10 * up, 0, -0.3 * bank);
    p.rot(
      "head",
      -56 - 0.05 * s + 58 * up + 4,
      k([
        [1, 0],
        [108, 0],
        [117, 14],
        [126, 13],
      ])(f),
      -0.6 * bank,
    );
    for (const [side, m] of [
      ["L", 1],
      ["R", -1],
    ]) {
      const w = fold(f);
      const o = m > 0 ? 0 : 0.5;
      const b = (i) => (i ? flex[i - 1](f - o) : beat(f - o));
      const e = 1 - w;
      const tip = 1 - off;
      p.rot(
        `humerus${side}`,
        -0.55 * pitch(f) * e + 12 * w,
        m * (spread(f) * e + 74 * w),
        m * (b(0) * e * 0.9 - 22 * w + bank * 0.4),
      );
      p.rot(
        `ulna${side}`,
        0,
        m * (-4 * e - 142 * w - 0.16 * (b(0) > 10 ? b(0) - 10 : 0) * e),
        m * (0.3 * (b(1) - 8) * e + 3 * w),
      );
      p.rot(
        `manus${side}`,
        0,
        m * (4 * e + 148 * w + 0.2 * (b(0) > 10 ? b(0) - 10 : 0) * e),
        m * tip * (0.45 * (b(2) - 8) * e),
      );
      p.rot(`primary${side}`, 0, m * 12 * w, m * tip * (0.5 * (b(3) - 8) * e + 4 * e));
      const [first, then] = STEPS[side].map(([a, c, d]) => [a + S, c + S, [m * 0.05, 0.005, d]]);
      const slide = bad && side === "R" ? 0.09 : 0;
      const gone = [
        ...first.slice(0, 2),
        first[2].map((v, i) => v + (i === 2 ? slide * Math.min(1, Math.max(0, (t - 91) / 7)) : 0)),
      ];
      const lead = bad ? 7 : 0;
      paddle(p, f, {
        limb: [`tibia${side}`, `tarsus${side}`, `toes${side}`],
        pole: [0, 0.1, -1],
        plants: [gone, then],
        air:
          t < 93 && f < first[0]
            ? tracks(
                [
                  [1, m * 0.04, -0.06, -0.58],
                  [54 + lead, m * 0.04, -0.07, -0.58],
                  [66 + lead, m * 0.05, -0.48, -0.2],
                  [76 + lead * 0.6, m * 0.05, -0.5, 0.16],
                  [84, m * 0.05, -0.5, 0.24],
                  [90, m * 0.05, -0.46, 0.16],
                ].map(([a, ...v]) => [a + S, ...v]),
              )
            : (g) => [m * 0.05, -0.46, -0.1 + (0.24 * (g - first[1])) / (then[0] - first[1])],
        from: "body",
        blend: [5, 5],
      });
      // Toes hang in the air and lie flat on the ground.
      const stands = (t >= STEPS[side][0][0] && t <= STEPS[side][0][1]) || t >= STEPS[side][1][0];
      const droop = stands
        ? 0
        : t < STEPS[side][0][0]
          ? k([
              [1, 78],
              [56, 74],
              [72, 34],
              [STEPS[side][0][0] - 3, 8],
              [STEPS[side][0][0], 0],
            ])(f)
          : 26 *
            Math.sin((Math.PI * (t - STEPS[side][0][1])) / (STEPS[side][1][0] - STEPS[side][0][1])) ** 1.3;
      p.face(`toes${side}`, [Math.sin((droop * Math.PI) / 360), 0, 0, Math.cos((droop * Math.PI) / 360)]);
    }
  });
  return makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 1,
    shot: { stage: "polish" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.1, place: 0.0009 }) }],
    more: {
      surfaces: [{ id: "prat", normal: [0, 1, 0], height: 0 }],
      propulsors: [{ figure: "cigonya", nodes: ["humerusL", "humerusR"].map(n), channel: "rotation.z" }],
      figures: [
        {
          id: "cigonya",
          parts: { root: n("body"), head: n("head") },
          limbs: ["L", "R"].flatMap((s) => [
            {
              id: `ala ${s}`,
              kind: "wing",
              side: s === "L" ? "left" : "right",
              nodes: ["humerus", "ulna", "manus", "primary", "primaryTip"].map((q) => n(q + s)),
            },
            {
              id: `pota ${s}`,
              kind: "leg",
              side: s === "L" ? "left" : "right",
              nodes: ["tibia", "tarsus", "toes", "claw"].map((q) => n(q + s)),
            },
          ]),
        },
      ],
    },
  });
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  retime(doc, ["humerusL", "ulnaL", "manusL"].map(n), "rotation.y", S + 96, S + 114, (f) =>
    f < S + 108 ? S + 96 : S + 96 + (f - S - 108) * 3,
  );
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "It comes through the braking strokes at an even speed, the wings beat and nothing slows; then it's simply standing.",
    kind: "no braking",
    size: "strong",
    nodes: all("body"),
    frames: [S + 55, S + 87],
    order: 1,
  },
  {
    what: "Wing ends are stiff boards, in a stroke the hand has to bend after the arm.",
    kind: "no drag in wings",
    size: "ordinary",
    nodes: ["manusL", "manusR", "primaryL", "primaryR", "primaryTipL", "primaryTipR"].map(n),
    frames: [S + 52, S + 98],
    order: 2,
  },
  {
    what: "As it rears up the head goes along with the body and looks at the sky; it has to look where it lands.",
    kind: "head goes along",
    size: "strong",
    nodes: all("neck1", "neck2", "neck3", "head"),
    frames: [S + 52, S + 98],
    order: 3,
  },
  {
    what: "Legs come down too late, they hang behind nearly to the ground and snap forward.",
    kind: "legs late",
    size: "ordinary",
    nodes: ["tibiaL", "tarsusL", "toesL", "tibiaR", "tarsusR", "toesR"].map(n),
    frames: [S + 54, S + 84],
    order: 4,
  },
  {
    what: "The right foot slips forward in its first step.",
    kind: "foot slides",
    size: "ordinary",
    nodes: all("tibiaR", "tarsusR", "toesR"),
    frames: [S + 90, S + 107],
    order: 5,
  },
  {
    what: "The left wing waits open and then claps in within six frames, the right one folds properly.",
    kind: "one side late",
    size: "ordinary",
    nodes: all("humerusL", "ulnaL", "manusL", "primaryL"),
    frames: [S + 96, S + 114],
    order: 6,
  },
  {
    what: "Tail isn't used, it should be spread down against the air when it brakes.",
    kind: "tail forgotten",
    size: "barely",
    nodes: all("tail", "tailTip"),
    frames: [S + 52, S + 98],
    order: 7,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) =>
    STEPS[s].map(([a, b]) => ({ node: n(`toes${s}`), frames: [S + a, S + Math.floor(b)], limit: 0.006 })),
  ),
  ground: {
    nodes: all("toesL", "toesR", "clawL", "clawR", "primaryTipL", "primaryTipR", "tailTip"),
    height: 0,
  },
  spikes: { except: [[S + 81, S + 92]] },
  masses: masses(rig, n),
};
