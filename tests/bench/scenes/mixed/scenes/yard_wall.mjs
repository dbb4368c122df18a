// @ts-check
import { figure, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { dropKeys, sheet, stepped } from "../kit/blocking.mjs";
import { wordsOf } from "../kit/help.mjs";

export const name = "yard_wall";
export const about =
  "A blocking on step keys: a boy climbs a yard wall with hands and feet, crouches on top, jumps down on the other side, and dusts his hands.";

const LAST = 98;
const TOP = 0.8;
const POSES = [1, 9, 14, 18, 26, 34, 42, 47, 50, 54, 62, 72, 77, 86];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "fiu",
    stature: 1.68,
    spines: 3,
    words: wordsOf(
      "csipo derek/hat/mellkas nyak fej tarko kulcs felkar alkar kez ujj comb sipcsont labfej talp hegy",
    ),
    side: (w, s) => `${s === "L" ? "bal" : "jobb"}${w[0].toUpperCase()}${w.slice(1)}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy", leg: "xzy" },
    armRest: 60,
  });
  const [rF, lF] = [
    [-0.09, 0, 0.08, -6],
    [0.09, 0, 0.05, 6],
  ];
  const [rT, lT] = [
    [-0.1, TOP, 0.6, -8],
    [0.1, TOP, 0.6, 8],
  ];
  const [rD, lD] = [
    [-0.11, 0, 1.4, -10],
    [0.11, 0, 1.36, 10],
  ];
  const up = bad ? 0.07 : 0;
  const [hR, hL] = [
    [-0.29, TOP + 0.004, 0.63],
    [0.29, TOP + 0.004, 0.63],
  ];
  const high = (/** @type {number[]} */ p) => [p[0], p[1] + up, p[2]];
  const perf = /** @type {any} */ ({
    ...sheet(
      ["hips", "hipsRot", "spine", "chest", "neck", "head"],
      [
        [1, [0.01, -0.016, 0.05], [1, 0, 1], [2, 0, -1], [3, 0, 0], [2, 0, 0], [8, 3, 0]],
        [9, [0, -0.2, -0.02], [24, 0, 0], [12, 0, 0], [12, 0, 0], [-14, 0, 0], [-20, 0, 0]],
        [14, [0, 0.01, 0.15], [30, 0, 0], [11, 0, 0], [11, 0, 0], [-8, 0, 0], [-10, 0, 0]],
        [18, [0.02, 0.13, 0.27], [46, -5, 5], [16, 2, -3], [16, 2, -3], [-16, 2, 0], [-20, 3, 0]],
        [26, [0, 0.2, 0.36], [58, 0, 0], [22, 0, 0], [22, 0, 0], [-28, 0, 0], [-34, 0, 0]],
        [34, [0, 0.6, 0.555], [14, 0, 0], [10, 0, 0], [10, 0, 0], [8, 0, 0], [18, 4, 0]],
        [42, [-0.02, 0.4, 0.47], [34, -6, 2], [16, -4, 0], [16, -4, 0], [-8, 6, 0], [-4, 8, 0]],
        [47, [0, 0.42, 0.98], [12, 0, 0], [4, 0, 0], [2, 0, 0], [8, 0, 0], [14, 0, 0]],
        [50, [0, -0.2, 1.3], [22, 0, 0], [10, 0, 0], [12, 0, 0], [-2, 0, 0], [4, 0, 0]],
        [54, [0, -0.37, 1.25], [34, 0, 0], [17, 0, 0], [18, 0, 0], [-12, 0, 0], [-10, 0, 0]],
        [62, [0, -0.09, 1.34], [10, 0, 0], [6, 0, 0], [6, 0, 0], [-4, 0, 0], [2, 0, 0]],
        [72, [0.012, -0.018, 1.36], [1, 3, 1], [2, 2, -1], [2, 2, -1], [4, 0, 0], [16, -3, 2]],
        [77, [0.014, -0.02, 1.36], [1, 3, 1], [3, 2, -1], [3, 2, -1], [4, 0, 0], [17, -4, 2]],
        [86, [-0.03, -0.02, 1.365], [0, -12, -1], [1, -14, 1], [0, -16, 1], [-2, -20, 0], [2, -34, -3]],
      ],
    ),
    ...sheet(
      ["footL", "footR", "rollL", "rollR", "kneeL", "kneeR"],
      [
        [1, lF, rF, 0, 0, 6, 6],
        [9, lF, rF, 0, 0, 10, 10],
        [14, [0.1, 0.07, 0.03, 8], [-0.1, 0.24, 0.16, -6], 42, 20, 10, 16],
        [18, [0.1, 0.26, 0.06, 10], rT, 36, 0, 10, 26],
        [26, lT, rT, 0, 0, 26, 26],
        [34, lT, rT, 0, 0, 12, 12],
        [42, lT, rT, 0, 0, 22, 22],
        [47, [0.1, 0.62, 0.86, 8], [-0.1, 0.56, 0.94, -8], 34, 28, 12, 12],
        [50, lD, rD, 0, 0, 16, 16],
        [54, lD, rD, 0, 0, 20, 20],
        [62, lD, rD, 0, 0, 12, 12],
        [72, lD, rD, 0, 0, 8, 8],
        [77, lD, rD, 0, 0, 8, 8],
        [86, lD, rD, 0, 0, 8, 8],
      ],
    ),
    ...sheet(
      ["armL", "armR", "wristL", "wristR", "clavL", "clavR"],
      [
        [1, [3, 8, 0, 18], [2, 8, 0, 16], [6, 0, 0], [6, 0, 0], [0, 0], [0, 0]],
        [9, [60, 20, 0, 40], [60, 20, 0, 40], [0, 0, 0], [0, 0, 0], [2, 4], [2, 4]],
        [14, [60, 20, 0, 40], [60, 20, 0, 40], [0, 0, 0], [0, 0, 0], [12, 2], [12, 2]],
        [18, [60, 20, 0, 40], [60, 20, 0, 40], [0, 0, 0], [0, 0, 0], [14, 2], [12, 2]],
        [26, [60, 20, 0, 40], [60, 20, 0, 40], [0, 0, 0], [0, 0, 0], [8, 4], [8, 4]],
        [34, [18, 50, 0, 30], [10, 56, 0, 26], [-12, 0, 0], [-16, 0, 0], [6, 0], [7, 0]],
        [42, [8, 30, 0, 30], [4, 34, 0, 24], [10, 0, 0], [14, 0, 0], [0, -4], [0, -5]],
        [47, [70, 66, 0, 30], [52, 72, 0, 36], [16, 0, 0], [18, 0, 0], [14, 2], [12, 2]],
        [50, [52, 40, 0, 34], [44, 44, 0, 38], [-10, 0, 0], [-8, 0, 0], [4, 4], [4, 4]],
        [54, [38, 30, 0, 22], [32, 34, 0, 24], [-16, 0, 0], [-18, 0, 0], [-2, 6], [-2, 6]],
        [62, [12, 18, 0, 44], [16, 16, 0, 50], [10, 0, 0], [12, 0, 0], [0, 2], [0, 2]],
        [72, [30, 4, -34, 84], [20, 6, -30, 66], [4, 0, 10], [14, 0, 0], [2, 6], [2, 4]],
        [77, [22, 6, -28, 68], [31, 4, -34, 86], [14, 0, 0], [2, 0, 10], [2, 4], [2, 6]],
        [86, [2, 9, 0, 20], [-6, 12, 0, 26], [8, 0, 0], [6, 0, 0], [0, 2], [0, -3]],
      ],
    ),
    fingL: sheet(
      ["v"],
      [
        [1, 22],
        [9, 2],
        [34, 12],
        [47, 4],
        [54, 18],
        [72, 6],
        [86, 24],
      ],
    ).v,
    fingR: sheet(
      ["v"],
      [
        [1, 24],
        [9, 2],
        [34, 8],
        [42, 2],
        [47, 6],
        [54, 20],
        [72, 6],
        [86, 22],
      ],
    ).v,
    handL: {
      w: { 1: 0, 9: 1, 26: 1, 34: 0, 98: 0 },
      at: (/** @type {number} */ f) => (f >= 18 ? high(hL) : hL),
      rot: () => handTurn("L", [-0.15, -0.05, 1], [0, -1, 0]),
      pole: [0.7, 0.1, -0.7],
    },
    handR: {
      w: { 1: 0, 9: 1, 26: 1, 34: 0, 98: 0 },
      at: (/** @type {number} */ f) => (f >= 18 ? high(hR) : hR),
      rot: () => handTurn("R", [0.15, -0.05, 1], [0, -1, 0]),
      pole: [-0.7, 0.1, -0.7],
    },
    leans: (/** @type {number} */ f) => (f >= 9 && f < 34) || (f >= 47 && f < 50),
    hung: (/** @type {string} */ s, /** @type {number} */ f) =>
      (f >= 14 && f < 18) || (f >= 18 && f < 26 && s === "L") || (f >= 47 && f < 50),
  });
  if (bad) {
    // Set back as for the crouch before, upright: nothing is under him.
    perf.hips[34] = [0, 0.6, 0.33];
    // The landing was copied over the pose that gives.
    for (const k of [
      "hips",
      "hipsRot",
      "spine",
      "chest",
      "neck",
      "head",
      "armL",
      "armR",
      "wristL",
      "wristR",
      "clavL",
      "clavR",
    ])
      perf[k][54] = perf[k][50];
    // The jump: the boots stand in the coping.
    perf.footL[42] = [0.1, TOP - 0.055, 0.6, 8];
    perf.footR[42] = [-0.1, TOP - 0.055, 0.6, -8];
    // Nobody looked where to jump to.
    perf.neck[34] = [0, 0, 0];
    perf.head[34] = [3, 4, 0];
  }
  for (const k of ["footL", "footR", "rollL", "rollR"]) perf[k] = stepped(perf[k]);
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    up: "z",
    poses: POSES,
    shot: { stage: "blocking" },
    items: [
      { skel: sk, perf, body: true },
      {
        id: "kofal",
        still: [0, 0, 0.67],
        shapes: [{ kind: "box", size: [4, TOP, 0.34], centre: [0, TOP / 2, 0] }],
      },
    ],
  });
  if (bad) {
    // The second leg got no keys when he pulled it up.
    dropKeys(b.doc, ["balComb", "balSipcsont", "balLabfej", "balTalp"], [26]);
  }
  b.doc.nodes.find((/** @type {any} */ n) => n.id === "kofal").shapes[0] = {
    kind: "box",
    size: [400, 34, TOP * 100],
    centre: [0, 0, TOP * 50],
  };
  delete b.doc.nodes.find((/** @type {any} */ n) => n.id === "kofal").fixedRotation;
  b.doc.figures = [figure(sk)];
  b.doc.surfaces = [
    { id: "udvar", normal: [0, 0, 1], height: 0 },
    {
      id: "faltetej",
      normal: [0, 0, 1],
      height: TOP * 100,
      edges: [
        [-200, -84],
        [200, -50],
      ],
    },
  ];
  b.doc.contacts = [
    { node: "balKez", with: "faltetej", frames: [9, 33] },
    { node: "jobbKez", with: "faltetej", frames: [9, 33] },
    { node: "jobbLabfej", with: "faltetej", frames: [18, 46] },
    { node: "balLabfej", with: "faltetej", frames: [26, 46] },
  ];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "On top of the wall, when he stands up, his weight is far behind his heels; he falls back into the yard.",
    kind: "off-balance",
    size: "strong",
    nodes: ["csipo"],
    frames: [34, 41],
    order: 1,
  },
  {
    what: "The left leg was forgotten when he pulls it up: the body is on top, the leg still has its turns of the pose before and cuts into the wall.",
    kind: "keys missing",
    size: "strong",
    nodes: ["balComb", "balSipcsont", "balLabfej", "balTalp"],
    frames: [26, 33],
    order: 2,
  },
  {
    what: "He lands and is a statue: the pose that should go down with the fall is a copy of the one before.",
    kind: "landing without give",
    size: "ordinary",
    nodes: ["csipo", "mellkas", "jobbSipcsont", "balSipcsont"],
    frames: [50, 61],
    order: 3,
  },
  {
    what: "He pulls himself up on hands that are seven centimetres above the wall.",
    kind: "hand floats",
    size: "ordinary",
    nodes: ["balKez", "jobbKez"],
    frames: [18, 33],
    order: 4,
  },
  {
    what: "In the crouch before the jump the feet stand in the stone.",
    kind: "foot sinks",
    size: "ordinary",
    nodes: ["balLabfej", "jobbLabfej", "balTalp", "jobbTalp"],
    frames: [42, 46],
    order: 5,
  },
  {
    what: "He should look down to where he is going to jump, the head goes straight on.",
    kind: "no-look",
    size: "barely",
    nodes: ["fej", "nyak"],
    frames: [34, 41],
    order: 6,
  },
];
