// @ts-check
// A glove puppet behind its booth's rail.
import { cameraNode } from "../kit/camera.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { bump, curvesOf, hold, shift } from "../kit/edits.mjs";
import { bothSides, makeRig, Pose } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "puppet_bow";
export const about =
  "A glove puppet without legs pops up over the rail of its booth, looks to both sides, presents its right hand, and bows so that the tassel of its cap falls over. Still camera from the front.";

const END = 120;
const rig = makeRig(
  /** @type {any} */ ([
    ["glove", null, [0, 0, 0], 0.15, "yxz"],
    ["belly", "glove", [0, 0.12, 0], 0.1, "yxz"],
    ["bust", "belly", [0, 0.1, 0], 0.1, "yxz"],
    ["head", "bust", [0, 0.08, 0], 0.15, "yxz"],
    ["nose", "head", [0, 0.05, 0.07], 0],
    ["cap", "head", [0, 0.12, -0.01], 0.02, "xzy"],
    ["cap2", "cap", [0, 0.08, 0], 0.01, "xzy"],
    ["tassel", "cap2", [0, 0.08, 0], 0.01, "xzy"],
    ["tasselEnd", "tassel", [0, 0.06, 0], 0],
    ...bothSides([
      ["arm*", "bust", [0.06, 0.02, 0.01], 0.03, "xzy"],
      ["fore*", "arm*", [0, -0.1, 0], 0.02, "xzy"],
      ["mitt*", "fore*", [0, -0.1, 0], 0.02, "xzy"],
      ["mittEnd*", "mitt*", [0, -0.05, 0], 0],
    ]),
  ]),
);
const n = (/** @type {string} */ r) =>
  `pierrot.${r.replace(/([LR])$/, (s) => (s === "L" ? "_left" : "_right"))}`;

/** @param {boolean} bad */
function build(bad) {
  const y = (/** @type {number} */ f) =>
    val(f, [
      [1, 0.52],
      [6, 0.5],
      [13, 0.93],
      [17, 0.88],
      [21, 0.9],
      [62, 0.9],
      [66, 0.875],
      [73, 0.915],
      [78, 0.905],
      [88, 0.905],
      [91, 0.925],
      [101, 0.82],
      [105, 0.83],
      [112, 0.828],
    ]);
  const look = (/** @type {number} */ f) =>
    val(f, [
      [25, 0],
      [28, 0.1],
      [34, -1],
      [42, -1.02],
      [45, -1.06],
      [53, 0.95],
      [60, 0.98],
      [66, 0.1],
      [72, -0.55],
      [86, -0.5],
      [92, 0],
    ]);
  const dip = (/** @type {number} */ f) =>
    val(f, [
      [42, 0],
      [48, 1],
      [54, 0],
      [60, 0],
      [65, 0.6],
      [71, 0],
    ]);
  const show = (/** @type {number} */ f) =>
    val(f, [
      [58, 0],
      [65, -0.28],
      [73, 1.06],
      [78, 0.98],
      [88, 1],
      [91, 1.05],
      [102, 0.55],
      [112, 0.5],
    ]);
  const bow = (/** @type {number} */ f) =>
    val(f, [
      [86, 0],
      [91, -0.16],
      [101, 1.04],
      [106, 0.97],
      [112, 1],
    ]);
  const body = (/** @type {import('../kit/rig.mjs').Pose} */ p, /** @type {number} */ f) => {
    p.move("glove", 0.012 * look(f - 2) - 0.02 * show(f), y(f) - 0.3, 0);
    const stretch = y(f + 1) - y(f - 1);
    p.rot("glove", 6 * bow(f), 6 * look(f - 3), -2 * look(f - 2) + 5 * show(f));
    p.rot("belly", 14 * bow(f) + 4 * dip(f), 9 * look(f - 2), 4 * show(f - 1));
    p.rot(
      "bust",
      22 * bow(f - 1) + 5 * dip(f - 1) - 40 * Math.max(-0.1, Math.min(0.1, stretch)),
      13 * look(f - 1),
      3 * show(f - 2),
    );
    p.rot(
      "head",
      26 * bow(f - 3) +
        9 * dip(f) -
        4 * show(f - 3) +
        60 * Math.max(-0.1, Math.min(0.1, y(f - 1) - y(f - 3))),
      32 * look(f),
      6 * look(f - 4) - 5 * show(f - 3),
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      const t = s === "L" ? 0 : 1.5;
      const up = val(f - t, [
        [6, 0],
        [12, -0.3],
        [18, 1.1],
        [23, 0.95],
        [28, 1],
      ]);
      const g = s === "R" ? show(f) : -0.2 * show(f - 2);
      const b = bow(f - 3 - t);
      const heart = s === "L" ? b : 0;
      p.rot(
        `arm${s}`,
        -(28 * up + (bad && s === "R" ? 62 : 8) * g + 26 * heart),
        0,
        k * (24 + 12 * up + (bad && s === "R" ? -30 : 46) * g - 16 * heart + 4 * k * look(f - 4)),
      );
      p.rot(
        `fore${s}`,
        -(62 * up + 12 - (s === "R" ? 52 : 0) * show(f - 2) * (s === "R" ? 1 : 0) + 24 * heart),
        0,
        k * -30 * heart,
      );
      p.rot(
        `mitt${s}`,
        -(
          8 +
          22 *
            val(f - t, [
              [8, 0],
              [13, -1],
              [20, 0.8],
              [26, 0],
            ]) -
          (s === "R" ? 1 : 0) * 24 * (show(f - 4) - show(f))
        ),
        0,
        k * 10 * (show(f - 3) - show(f - 5)),
      );
    }
  };
  const swing = hang(body);
  const take = perform(rig, [1, END], (p, f) => {
    body(p, f);
    ["cap", "cap2", "tassel"].forEach((id, i) => {
      p.rot(id, swing[f][i][0], 0, swing[f][i][1]);
    });
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "polish" },
    things: [
      cameraNode("stage_cam", [0.1, 1.0, bad ? 2.1 : 2.6], [0.02, bad ? 0.66 : 0.93, 0], 0.01),
      { id: "rail", translation: [0, 56, 9], shapes: [{ kind: "box", size: [140, 8, 4] }] },
    ],
    bodies: [{ rig, name: n, curves: keyed(take, { how: "smooth", turn: 0.4, place: 0.0015 }) }],
    more: {
      figures: [
        {
          id: "pierrot",
          parts: {
            root: n("glove"),
            head: n("head"),
            leftUpperArm: n("armL"),
            leftForearm: n("foreL"),
            leftHand: n("mittL"),
            rightUpperArm: n("armR"),
            rightForearm: n("foreR"),
            rightHand: n("mittR"),
          },
        },
      ],
      cameras: [{ id: "front", node: "stage_cam", verticalFieldOfView: 27, aspect: 1.7778 }],
      props: [{ node: "rail" }],
    },
  });
}
/** Angles of cap and tassel: springs that are driven by how the head turns and moves. @param {(p: any, f: number) => void} body */
function hang(body) {
  const head = (/** @type {number} */ f) => {
    const p = new Pose(rig);
    body(p, f);
    return { at: p.point("cap", [0, 0.1, 0]), up: p.point("cap", [0, 1, 0]) };
  };
  /** @type {number[][][]} */ const out = [];
  const a = [0, 1, 2].map(() => [
    [0, 0],
    [0, 0],
  ]);
  for (let f = -20; f <= END; f++) {
    const g = Math.max(1, f);
    const [h0, h1, h2] = [head(g - 1), head(g), head(g + 1)];
    const acc = [0, 1, 2].map((i) => (f < 1 ? 0 : h0.at[i] - 2 * h1.at[i] + h2.at[i]));
    const lean = [h1.up[2] - h1.at[2], h1.at[0] - h1.up[0]];
    for (let i = 0; i < 3; i++) {
      const [rest, stiff] = [
        [10 + 14 * i + lean[0] * [16, 26, 40][i], 4 + 5 * i + lean[1] * [10, 16, 26][i]],
        [0.12, 0.085, 0.06][i],
      ];
      const push = [-acc[2] * 90 - acc[1] * 130 * (0.4 + lean[0]), acc[0] * 110];
      for (let k = 0; k < 2; k++) {
        const s = a[i][k];
        s[1] += (rest[k] - s[0]) * stiff + push[k] * (0.3 + 0.3 * i) - s[1] * 0.2;
        s[0] += s[1];
      }
    }
    if (f >= 1) out[f] = a.map((s) => [s[0][0], s[1][0]]);
  }
  return out;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of curvesOf(doc, ["glove", "belly", "bust"].map(n), "rotation.y"))
    c.keys = c.keys.slice(0, 1).concat([[END, c.keys[0][1]]]);
  hold(curvesOf(doc, ["cap", "cap2", "tassel"].map(n)), [30, 58]);
  shift(curvesOf(doc, [n("mittR"), n("foreR")]), [58, 90], 7);
  bump(doc, n("bust"), "rotation.x", 97, -8);
  return doc;
}
export const flaws = [
  {
    what: "The right hand that presents points straight at the camera in front of the chest, no one sees the gesture.",
    kind: "hand lost in silhouette",
    size: "strong",
    nodes: [n("armR"), n("foreR")],
    frames: [68, 100],
    order: 1,
  },
  {
    what: "The head turns alone on a body of wood, chest and belly take no part in either look.",
    kind: "head turns alone",
    size: "ordinary",
    nodes: ["head", "bust", "belly"].map(n),
    frames: [25, 92],
    order: 2,
  },
  {
    what: "Cap and tassel are frozen to the head through both looks and snap loose at 59.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: ["cap", "cap2", "tassel"].map(n),
    frames: [30, 59],
    order: 4,
  },
  {
    what: "Forearm and mitt come seven frames after the arm, the gesture falls in two.",
    kind: "hand comes late",
    size: "ordinary",
    nodes: ["foreR", "mittR"].map(n),
    frames: [58, 97],
    order: 5,
  },
  {
    what: "The camera is too low and too close, cap and part of the head are cut by the top of picture.",
    kind: "cut by frame edge",
    size: "ordinary",
    nodes: ["stage_cam", n("head"), n("cap")],
    frames: [12, 98],
    order: 3,
  },
  {
    what: "A tick of the chest on 97 in the middle of the bow.",
    kind: "pop",
    size: "barely",
    nodes: [n("bust")],
    frames: [95, 99],
    order: 6,
  },
];
export const truth = {
  picture: { nodes: ["head", "mittR", "mittL", "cap2", "nose", "tasselEnd"].map(n), frames: [10, END] },
};
