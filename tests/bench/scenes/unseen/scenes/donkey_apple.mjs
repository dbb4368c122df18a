// @ts-check
// A girl gives an apple to a donkey.
import { masses, names, person } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { bump, curvesOf, erase, straight, tidy } from "../../creatures/kit/edits.mjs";
import { fourLegs } from "../../creatures/kit/gaits.mjs";
import { add, cross, fromColumns, mix, mul, sub, turn, unit } from "../../creatures/kit/math.mjs";
import { lookAt, partsOf, strike } from "../../creatures/kit/people.mjs";
import { bothSides, heading, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft, stretches } from "../kit-B/motion.mjs";

export const name = "donkey_apple";
export const about =
  "A girl holds an apple out to a donkey. It takes a step with each leg, stretches its neck and takes it; she snatches her hand back, laughs, and then strokes the chewing donkey's forehead.";

const FPS = 24;
const END = 138;
const range = /** @type {[number, number]} */ ([1, END]);
const TAKE = 70;
const HIP = 0.985;
const beastRig = makeRig(
  /** @type {any} */ ([
    ["hips", null, [0, 1.06, 0], 40, "yxz"],
    ["loin", "hips", [0, 0.03, 0.4], 40],
    ["chest", "loin", [0, -0.02, 0.42], 45],
    ["neck1", "chest", [0, 0.12, 0.18], 8],
    ["neck2", "neck1", [0, 0.2, 0.18], 7],
    ["head", "neck2", [0, 0.2, 0.14], 9],
    ["muzzle", "head", [0, -0.08, 0.4], 0],
    ["jaw", "head", [0, -0.1, 0.06], 0],
    ["chin", "jaw", [0, -0.04, 0.3], 0],
    ["tail1", "hips", [0, 0.04, -0.2], 0.5],
    ["tail2", "tail1", [0, -0.22, -0.06], 0.4],
    ["tail3", "tail2", [0, -0.24, 0], 0.3],
    ["tassel", "tail3", [0, -0.2, 0], 0],
    ...bothSides([
      ["ear*", "head", [0.06, 0.09, -0.04], 0],
      ["earTip*", "ear*", [0.03, 0.26, -0.02], 0],
      ["thigh*", "hips", [0.15, -0.04, 0], 4, "xzy"],
      ["shin*", "thigh*", [0, -0.4, 0.001], 2],
      ["hock*", "shin*", [0, -0.36, 0], 1],
      ["hoof*", "hock*", [0, -0.28, 0], 0],
      ["upper*", "chest", [0.15, -0.1, 0.08], 4, "xzy"],
      ["lower*", "upper*", [0, -0.33, 0], 2],
      ["wrist*", "lower*", [0, -0.365, 0], 1],
      ["pad*", "wrist*", [0, -0.27, 0], 0],
    ]),
  ]),
);
const d = names(
  {
    L: "L",
    R: "R",
    hips: "rump",
    loin: "back",
    chest: "withers",
    muzzle: "lips",
    "thigh*": "hindleg_1_*",
    "shin*": "hindleg_2_*",
    "hock*": "hindleg_3_*",
    "hoof*": "hindhoof_*",
    "upper*": "foreleg_1_*",
    "lower*": "foreleg_2_*",
    "wrist*": "foreleg_3_*",
    "pad*": "forehoof_*",
  },
  "osel:",
);
const girlRig = person(1.35, { mass: 30, head: 0.15, wide: 0.9 });
const g = names(
  {
    hips: "boky",
    waist: "pas",
    chest: "hrudnik",
    neck: "krk",
    head: "hlava",
    crown: "temeno",
    "thigh*": "stehno_*",
    "shin*": "lytko_*",
    "foot*": "chodidlo_*",
    "ball*": "prsty_*",
    "toe*": "spicka_*",
    "clav*": "klicek_*",
    "arm*": "paze_*",
    "fore*": "predlokti_*",
    "hand*": "ruka_*",
    "tip*": "ruka_konec_*",
  },
  "divka:",
);

// The donkey's way: one step with each leg, and the body over them.
const zAt = soft(
  [
    [18, 0],
    [56, 0.34],
  ],
  6,
);
const step = (
  /** @type {number} */ x,
  /** @type {number} */ z,
  /** @type {number} */ off,
  /** @type {number} */ land,
) => [
  { from: -100, to: off, at: [x, 0, z] },
  { from: land, to: END + 100, at: [x, 0, z + 0.34] },
];
const plants = {
  foreL: step(0.14, 0.93, 21, 32),
  hindR: step(-0.14, 0.0, 28, 39),
  foreR: step(-0.14, 0.86, 36, 47),
  hindL: step(0.14, 0.07, 43, 54),
};
const LIP = [0, -0.1, 0.4];
const BROW = [0, 0.12, 0.11];

// Where the girl's right wrist offers the apple, and the hand's turn there: palm up, fingers ahead.
const handTurn = (/** @type {number[]} */ fingers, /** @type {number[]} */ palm) => {
  const y = mul(unit(fingers), -1);
  const x = unit(sub(palm, mul(y, palm[0] * y[0] + palm[1] * y[1] + palm[2] * y[2])));
  return fromColumns(x, y, cross(x, y));
};
const OFFER = handTurn([0.1, -0.12, -1], [0, 1, -0.1]);
const NEAR = handTurn([-0.35, 0.75, -0.5], [-0.6, 0.2, -0.5]);
const STROKE = handTurn([-0.15, 0.8, -0.62], [0, -0.55, -0.85]);
const PALM = [0.045, -0.06, 0];
const slerp = (/** @type {number[]} */ a, /** @type {number[]} */ b, /** @type {number} */ u) => {
  const s = a.reduce((t, v, i) => t + v * b[i], 0) < 0 ? -1 : 1;
  return unit(a.map((v, i) => v * (1 - u) + s * b[i] * u));
};
const blend = (/** @type {number[]} */ a, /** @type {number[]} */ b, /** @type {number} */ u) =>
  a.map((v, i) => mix(v, b[i], u));
const raiseHand = soft(
  [
    [-10, 0],
    [6, 0.9],
    [26, 1],
    [TAKE, 1],
  ],
  4,
);
const back = soft(
  [
    [TAKE + 3, 0],
    [TAKE + 12, 1.06],
    [TAKE + 18, 1],
  ],
  2.5,
);
const touch = soft(
  [
    [97, 0],
    [115, 1],
  ],
  3,
);
const offered = (/** @type {number} */ f) => [
  0.04 + 0.003 * drift(f, 34, 1),
  0.86 + 0.1 * raiseHand(f) + 0.004 * drift(f, 41, 2),
  2.2 - 0.08 * raiseHand(f) + 0.004 * drift(f, 52, 3),
];
const appleInHand = (/** @type {number} */ f) => add(offered(f), turn(OFFER, PALM));

const stretch = soft(
  [
    [44, 0],
    [63, 1],
    [TAKE + 2, 1],
    [TAKE + 16, 0],
  ],
  3,
);
const lowHead = soft(
  [
    [92, 0],
    [110, 1],
  ],
  4,
);
const mouth = soft(
  [
    [58, 0],
    [66, 1],
    [TAKE, 0.75],
    [TAKE + 6, 0.55],
    [84, 0.5],
    [88, 0],
  ],
  1.5,
);
const chew = (/** @type {number} */ f) => {
  const on = soft(
    [
      [84, 0],
      [90, 1],
      [120, 0.85],
      [138, 0.9],
    ],
    2,
  )(f);
  return on * (0.5 - 0.5 * Math.cos((2 * Math.PI * (f - 86)) / 15 + 0.5 * drift(f, 60, 1)));
};
const lag = follow((f) => 20 * stretch(f) - 10 * lowHead(f), range, { fps: FPS, hz: 1.5, damp: 0.4 });

/** @param {{ early?: boolean, away?: boolean, stiff?: boolean }} bad */
function build(bad) {
  /** @type {{ p: number[], q: number[] }[]} */ const heads = [];
  const donkey = perform(beastRig, range, (p, f) => {
    const breath = drift(f, 58, 1);
    const sway =
      Math.sin((2 * Math.PI * (f - 20)) / 15.5) *
      soft(
        [
          [16, 0],
          [24, 1],
          [50, 1],
          [58, 0],
        ],
        3,
      )(f);
    const s = stretch(f);
    p.move(
      "hips",
      0.012 * sway,
      HIP - 0.008 + 0.006 * Math.cos(sway * 2) - 0.012 * s + 0.002 * breath,
      zAt(f) + 0.03 * s,
    );
    p.rot("hips", 1.2 * s, 1.4 * sway, 1.2 * sway);
    p.rot("loin", 0.5 * breath, -1.2 * sway, -0.8 * sway);
    p.rot("chest", 2.5 * s - 0.4 * breath, -0.8 * sway, -0.6 * sway);
    const nod =
      0.018 *
      Math.sin((2 * Math.PI * (f - 23)) / 15.5) *
      soft(
        [
          [16, 0],
          [24, 1],
          [50, 1],
          [58, 0],
        ],
        3,
      )(f);
    const pitch = 38 - 12 * s + 6 * lowHead(f) + 1.5 * breath - 2.5 * chew(f);
    const yaw = 2.5 * drift(f, 66, 4) * (1 - s) * (1 - 0.6 * lowHead(f));
    const q = heading(yaw, pitch, 2 * drift(f, 80, 5) * (1 - s));
    const natural = [
      0.01 * drift(f, 70, 6),
      1.46 + nod - 0.19 * lowHead(f) + 0.006 * breath,
      1.3 + zAt(f) + 0.155 * lowHead(f),
    ];
    const take = sub(appleInHand(Math.min(f, TAKE)), turn(q, [0, -0.1, 0.4]));
    p.reach("neck1", "neck2", "head", blend(natural, take, s), [0, 0.75, -0.6]);
    p.face("head", q);
    p.rot("jaw", 13 * mouth(f) + 9 * chew(f), 4 * Math.sin((2 * Math.PI * (f - 88)) / 15) * chew(f), 0);
    heads[f] = p.world("head");
    for (const sd of ["L", "R"]) {
      const k = sd === "L" ? 1 : -1;
      p.rot(
        `ear${sd}`,
        -6 + 26 * s * 0.5 - 0.5 * lag(f) + 4 * drift(f, sd === "L" ? 37 : 45, k + 2),
        k * (8 + 8 * drift(f, sd === "L" ? 53 : 47, k + 5)),
        k * (-8 - 14 * lowHead(f - (sd === "L" ? 0 : 3))),
      );
    }
    [1, 2, 3].forEach((i) => {
      p.rot(`tail${i}`, 2 + 0.1 * lag(f - 3 * i), 0, 6 * drift(f - 3 * i, 44, 2) * (i / 2) + 2 * sway);
    });
    fourLegs(p, f, plants, { hip: HIP, lift: 0.09, hindLean: 4, foreLean: 0, fold: 34 });
  });

  const leanIn = soft(
    [
      [2, 0],
      [24, 1],
      [TAKE + 3, 1],
      [TAKE + 11, -0.7],
      [TAKE + 20, -0.3],
      [96, -0.25],
      [116, 1.5],
    ],
    3,
  );
  const laugh = soft(
    [
      [TAKE + 4, 0],
      [TAKE + 9, 1],
      [90, 0.5],
      [104, 0],
    ],
    2,
  );
  const rub = soft(
    [
      [115, 0],
      [122, 1],
      [129, -0.2],
      [136, 0.9],
    ],
    2.5,
  );
  /** @type {number[][]} */ const palms = [];
  const girl = perform(girlRig, range, (p, f) => {
    const breath = drift(f, 50, 2);
    const w = bad.stiff ? 0 : leanIn(f);
    const l = laugh(f);
    const shake = 1.6 * l * Math.sin((2 * Math.PI * (f - 74)) / 7);
    const brow = add(heads[f].p, turn(heads[f].q, BROW));
    const lips = add(heads[f].p, turn(heads[f].q, LIP));
    strike(p, {
      hips: [
        0.004 * drift(f, 60, 3) - 0.006 * w,
        0.637 - 0.01 * Math.abs(w) + 0.0015 * breath,
        2.505 - 0.04 * w,
      ],
      hipsR: [3 * w, 180 + 5 * w, 0],
      waist: [2 + 4 * w + shake * 0.4, 3 * w, 0],
      chest: [2 + 5 * w - 6 * l + 0.8 * breath + shake, 3 * w, 0],
      neck: [4 + 2 * w, 0, 0],
      clavL: [0, 3 + 5 * l + 0.6 * breath],
      clavR: [6 * w, 3 + 7 * l + 0.6 * breath],
      armL: [
        -2 - 8 * w + 12 * l + 2 * drift(f - 3, 46, 4),
        0,
        9 + 5 * l + drift(f, 57, 6),
        16 + 26 * l + 5 * w,
      ],
      handL: [6 + 4 * drift(f - 5, 46, 4), 0, 0],
      footL: { at: [-0.075, 0, 2.3], yaw: 184 },
      footR: { at: [0.085, 0, 2.5], yaw: 166, pitch: 9 * Math.max(0, w - 0.2) },
    });
    const gaze = blend(
      lips,
      add(heads[f].p, turn(heads[f].q, [0, 0.02, 0.14])),
      soft(
        [
          [72, 0],
          [84, 1],
        ],
        2,
      )(f),
    );
    const mark = bad.away ? [-1.6, 1.75, 1.2] : gaze;
    p.rot("head", 0, 0, 0);
    lookAt(p, mark, 0.86);
    // The right hand: offers, is snatched back to the breast, and goes out again to the donkey's forehead.
    const breast = add(p.point("chest", [-0.13, 0.1, 0.2]), [0, 0.006 * shake, 0]);
    const b = back(f);
    const t = touch(f);
    const q = slerp(slerp(OFFER, NEAR, b), STROKE, t);
    const along = turn(heads[f].q, [0, -0.02, 0.045 * rub(f)]);
    const onBrow = sub(add(brow, along), turn(q, [0.012, -0.075, 0]));
    const arc = [0, 0.05 * Math.sin(Math.PI * t), 0.04 * Math.sin(Math.PI * t)];
    const wrist = add(blend(blend(offered(Math.min(f, TAKE + 8)), breast, b), onBrow, t), arc);
    p.reach("armR", "foreR", "handR", wrist, [0.55, -1, 0.45]);
    p.face("handR", q);
    palms[f] = p.point("handR", PALM);
  });
  const appleRig = makeRig(/** @type {any} */ ([["jablko", null, [0, 0, 0], 0.15, "yxz"]]));
  const from = bad.early ? 50 : TAKE;
  const apple = perform(appleRig, range, (p, f) => {
    const at = f <= from ? palms[f] : add(heads[f].p, turn(heads[f].q, LIP));
    p.move("jablko", at[0], at[1], at[2]);
    const tip = f <= TAKE ? 0 : (1 - Math.cos(Math.min(1, (f - TAKE) / 12) * Math.PI)) / 2;
    p.rot("jablko", 26 * tip, 0, 0);
  });
  const habit = { how: "bezier", turn: 0.08, place: 0.0006 };
  const doc = makeDocument({
    name: "osel_jablko_012",
    fps: FPS,
    range,
    unit: 0.01,
    shot: { stage: "splining" },
    bodies: [
      { rig: beastRig, name: d, curves: keyed(donkey, habit) },
      { rig: girlRig, name: g, curves: keyed(girl, habit) },
      { rig: appleRig, name: (r) => r, curves: keyed(apple, habit) },
    ],
    more: {
      figures: [
        { id: "divka", stature: 1.35, parts: partsOf(g) },
        {
          id: "osel",
          parts: { root: d("hips"), head: d("head") },
          limbs: ["L", "R"].flatMap((s) =>
            [
              ["hind", ["thigh", "shin", "hock", "hoof"]],
              ["fore", ["upper", "lower", "wrist", "pad"]],
            ].map(([what, js]) => ({
              id: `${what} ${s}`,
              kind: "leg",
              side: s === "L" ? "left" : "right",
              nodes: /** @type {string[]} */ (js).map((j) => d(j + s)),
            })),
          ),
        },
      ],
      surfaces: [{ id: "paddock", height: 0 }],
      props: [
        {
          node: "jablko",
          mass: 0.15,
          heldBy: [
            { node: g("handR"), frames: [1, TAKE] },
            { node: d("head"), frames: [TAKE, 86] },
          ],
        },
      ],
      contacts: [{ node: g("handR"), with: d("head"), frames: [116, END], slides: true }],
      gazes: [{ figure: "divka", at: d("muzzle"), frames: [1, 72] }],
    },
  });
  const node = doc.nodes.find((/** @type {any} */ x) => x.id === "jablko");
  node.shapes = [{ kind: "sphere", radius: 3.6 }];
  node.visible = [[1, 86]];
  return doc;
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ early: true, away: true, stiff: true });
  straight(curvesOf(doc, ["thighL", "shinL", "hockL"].map(d), "rotation"), [43, 54]);
  erase(doc, [d("jaw")]);
  bump(doc, g("armL"), "rotation.x", 50, -13);
  return tidy(doc);
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "The apple jumps through the air from her hand into its mouth, the donkey isn't there yet by half a foot.",
    kind: "prop not held",
    size: "strong",
    nodes: ["jablko", g("handR")],
    frames: [48, 72],
    order: 1,
  },
  {
    what: "She looks away over its back the whole time. She'd have eyes for nothing but that mouth.",
    kind: "look",
    size: "ordinary",
    nodes: ["head", "neck"].map(g),
    frames: [1, 138],
    order: 2,
  },
  {
    what: "Her body doesn't take part: the arm goes out, is snatched back and goes out again, and hips and spine stand like a post. No weight goes forward or back.",
    kind: "no weight",
    size: "ordinary",
    nodes: ["hips", "waist", "chest"].map(g),
    frames: [1, 138],
    order: 3,
  },
  {
    what: "She strokes the air: at the end her hand stops a hand's breadth short of its forehead, on an arm as straight as a stick.",
    kind: "hand off the thing",
    size: "ordinary",
    nodes: [g("handR"), g("foreR"), d("head")],
    frames: [108, 138],
    order: 4,
  },
  {
    what: "Left hind leg doesn't step, the hoof is pulled along over the ground.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["thighL", "shinL", "hockL", "hoofL"].map(d),
    frames: [42, 55],
    order: 5,
  },
  {
    what: "It takes an apple with its mouth shut and never chews.",
    kind: "part forgotten",
    size: "barely",
    nodes: ["jaw", "chin"].map(d),
    frames: [58, 138],
    order: 6,
  },
  {
    what: "Her left arm jerks at 50.",
    kind: "pop",
    size: "barely",
    nodes: ["armL", "foreL"].map(g),
    frames: [48, 52],
    order: 7,
  },
];
export const truth = {
  plants: [
    ...["L", "R"].flatMap((s) => [
      ...stretches(d(`hoof${s}`), plants[/** @type {"hindL"} */ (`hind${s}`)], range),
      ...stretches(d(`pad${s}`), plants[/** @type {"foreL"} */ (`fore${s}`)], range),
    ]),
    ...["ballL", "ballR", "footL"].map((j) => ({ node: g(j), frames: range })),
  ],
  ground: { nodes: [...["padL", "padR", "hoofL", "hoofR"].map(d), g("ballL"), g("ballR")], height: 0 },
  masses: masses(girlRig, g),
  balance: [{ frames: range, feet: ["ballL", "ballR", "footL", "footR"].map(g) }],
};
