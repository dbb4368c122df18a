import { cameraNode } from "../../creatures/kit/camera.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { add, axisTurn } from "../../creatures/kit/math.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { leaveOut, pop } from "../../slips.mjs";
import { carried, chain, one, played, poseOf, thing } from "../kit/stage.mjs";

export const name = "arm_loads";
export const about =
  "A jointed loading arm picks a crate off a bench, swings it over to a toy truck, sets it down on the bed, and the truck drives off with it.";

const FPS = 60;
const RANGE = [1, 190];
const GRIP = 56;
const FREE = 130;
const GO = 146;
const BENCH = 0.72;
const BED = 0.34;
const HALF = 0.11;
const rig = makeRig([
  ["plinth", null, [0, 0, 0], 80],
  ["base", "plinth", [0, 0.5, 0], 30],
  ["upper", "base", [0, 0.16, 0.08], 12, "xzy"],
  ["fore", "upper", [0, 0.62, 0.1], 8, "xzy"],
  ["wrist", "fore", [0, -0.1, 0.56], 3, "xzy"],
  ["hand", "wrist", [0, -0.12, 0], 2],
  ["clawL", "hand", [0.16, -0.06, 0], 0.3],
  ["clawR", "hand", [-0.16, -0.06, 0], 0.3],
  ["lead1", "fore", [0.06, -0.06, -0.04], 0.2],
  ["lead2", "lead1", [0, -0.14, 0.05], 0.2],
  ["lead3", "lead2", [0, -0.14, 0.07], 0.2],
  ["lead4", "lead3", [0, -0.1, 0.08]],
]);
const WORDS = {
  plinth: "socle",
  base: "tourelle",
  upper: "bras",
  fore: "avantbras",
  wrist: "poignet",
  hand: "pince",
  clawL: "mors_g",
  clawR: "mors_d",
  lead1: "cable_1",
  lead2: "cable_2",
  lead3: "cable_3",
  lead4: "cable_bout",
};
const n = (role) => WORDS[role];
const WHEELS = ["roue_av_g", "roue_av_d", "roue_ar_g", "roue_ar_d"];
const R = 0.09;
// Where the hand's joint is, by turn, reach and height over the floor. It leaves and comes to rest on arcs.
const turns = one([
  [1, 38],
  [16, 38],
  [22, 41],
  [40, -33.2],
  [44, -32],
  [66, -32],
  [72, -33.4],
  [98, 72.4],
  [105, 70.6],
  [112, 71],
  [142, 71],
  [150, 72],
  [178, 37],
  [184, 38.2],
  [190, 38],
]);
const reach = one([
  [1, 0.72],
  [18, 0.7],
  [42, 0.96],
  [62, 0.96],
  [70, 0.92],
  [84, 0.78],
  [106, 0.9],
  [136, 0.9],
  [152, 0.86],
  [182, 0.72],
  [190, 0.72],
]);
const OVER = BENCH + HALF * 2 + 0.02;
const ON = BED + HALF * 2 + 0.02;
const height = one([
  [1, 1.2],
  [12, 1.2],
  [20, 1.23],
  [36, OVER + 0.16],
  [49, OVER],
  [58, OVER],
  [63, OVER - 0.004],
  [82, 1.26],
  [94, 1.2],
  [122, ON],
  [133, ON],
  [137, ON - 0.001],
  [154, 1.0],
  [178, 1.21],
  [184, 1.2],
  [190, 1.2],
]);
const close = one([
  [1, 0.02],
  [20, 0.02],
  [34, 0.05],
  [46, 0.05],
  [GRIP, 0],
  [FREE - 3, 0],
  [138, 0.05],
  [165, 0.02],
  [190, 0.02],
]);
const drive = one([
  [1, 0],
  [GO - 6, 0],
  [GO, -0.012],
  [152, 0.014],
  [168, 0.2],
  [180, 0.46],
  [190, 0.72],
]);
const dip = one([
  [1, 0],
  [121, 0],
  [127, -0.014],
  [132, -0.009],
  [138, -0.011],
  [190, -0.011],
]);

function build(bad) {
  // The flawed turret goes at one speed, and stops.
  const turret = (f) => (bad && f > 66 && f < 112 ? -32 + 103 * Math.min(1, (f - 66) / 36) : turns(f));
  const lead = chain(RANGE, FPS, (f) => 1.5 * (turns(f) - turns(f - 2)), 3, 2.2, 0.3);
  const nod = chain(RANGE, FPS, (f) => 75 * (height(f) - height(f - 2)), 3, 2.4, 0.32);
  const take = played(rig, RANGE, (p, f) => {
    const t = turret(f);
    const r = reach(f);
    p.rot("base", 0, t, 0);
    const [s, c] = [Math.sin((t * Math.PI) / 180), Math.cos((t * Math.PI) / 180)];
    p.reach(
      "upper",
      "fore",
      "wrist",
      [r * s, height(f) + 0.12 + dip(f) * Math.min(1, Math.max(0, (150 - f) / 14)), r * c],
      [-0.5 * s, 1, -0.5 * c],
    );
    const q = axisTurn(1, t);
    p.face("wrist", q);
    p.move("clawL", HALF + close(f), -0.06, 0);
    p.move("clawR", -HALF - close(f), -0.06, 0);
    for (let i = 0; i < 3; i++)
      p.rot(
        `lead${i + 1}`,
        [8, -6, -10][i] + nod[i](f) * [0.6, 0.8, 1][i],
        0,
        lead[i](f) * [0.7, 0.9, 1.1][i],
      );
  });
  const at = (f) => {
    const w = poseOf(take, f).world("hand");
    return { p: add(w.p, [0, -0.02 - HALF, 0]), q: w.q };
  };
  const bench = at(GRIP);
  const set = at(FREE);
  const hop = bad ? 18 : 0;
  const late = bad ? 5 : 0;
  const rest = set.q;
  const ride = (f) => ({ p: [set.p[0], BED + dip(f) + HALF, set.p[2] - drive(f)], q: rest });
  const crate = (f) => {
    if (f < GRIP - hop) return { p: [bench.p[0], BENCH + HALF, bench.p[2]], q: bench.q };
    if (f <= FREE - 7) return at(f);
    if (f <= GO - 6) return { ...ride(f), p: [set.p[0], Math.max(BED + dip(f), 0) + HALF, set.p[2]] };
    return ride(f < GO + 12 + late * 2 ? f - late * Math.min(1, (GO + 12 + late * 2 - f) / 12) : f);
  };
  const k = 0.001;
  const doc = makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: k,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.03, place: 0.0002 }) }],
    things: [
      { id: "caisse", rotationOrder: "xzy", shapes: [{ kind: "box", size: [220, 220, 220] }] },
      {
        id: "camion",
        translation: [set.p[0] / k, BED / k, set.p[2] / k].map((v) => Number(v.toFixed(2))),
        shapes: [{ kind: "box", size: [360, 40, 700], centre: [0, -20, -60] }],
      },
      cameraNode("cadre", [3.4, 1.5, 2.3], [0.2, 0.75, 0.1], k),
      ...WHEELS.map((id, i) => ({
        id,
        parent: "camion",
        translation: [i % 2 ? -170 : 170, (R - BED) / k, i < 2 ? -290 : 170],
      })),
    ],
    more: {
      surfaces: [
        { id: "sol", height: 0 },
        {
          id: "etabli",
          height: BENCH / k,
          edges: [
            [-900, 500],
            [-200, 1100],
          ],
        },
      ],
      cameras: [{ id: "plan", node: "cadre", verticalFieldOfView: 32, aspect: 1.7778 }],
      props: [
        { node: "caisse", mass: 6, heldBy: [{ node: n("hand"), frames: [GRIP, FREE - 7] }] },
        { node: "camion", mass: 15 },
      ],
    },
  });
  const z = set.p[2];
  doc.curves.push(
    ...carried("caisse", RANGE, k, "xzy", crate),
    ...thing(
      "camion",
      RANGE,
      { "translation.y": (f) => (BED + dip(f)) / k, "translation.z": (f) => (z - drive(f)) / k },
      1,
    ),
    ...WHEELS.flatMap((id, i) =>
      thing(id, RANGE, {
        "translation.y": (f) => (R - BED - dip(f)) / k,
        ...(bad && i > 1 ? {} : { "rotation.x": (f) => (-drive(f) / R) * (180 / Math.PI) }),
      }),
    ),
  );
  return doc;
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  leaveOut(doc, ["lead1", "lead2", "lead3"].map(n), "rotation");
  pop(doc, n("fore"), "rotation.x", 160, 3);
  for (const c of doc.curves)
    if (c.node === n("clawR") && c.channel === "translation.x")
      c.keys = c.keys.filter((q) => q[0] < 36 || q[0] > 150);
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "The crate jumps off the bench up into the claw before the claw has come down to it.",
    kind: "prop leaps to hand",
    size: "strong",
    nodes: ["caisse", n("hand")],
    frames: [GRIP - 19, GRIP - 5],
    order: 1,
  },
  {
    what: "The turret swings across at one speed and bangs to a halt at 102 with six kilos on the end; ease out, ease in, a bit of overshoot.",
    kind: "no ease in the swing",
    size: "strong",
    nodes: ["caisse", ...all("base", "upper", "fore", "wrist", "hand")],
    frames: [66, 112],
    order: 2,
  },
  {
    what: "One jaw never shuts, the crate is lifted by a finger that doesn't touch it.",
    kind: "grip open",
    size: "ordinary",
    nodes: all("clawR"),
    frames: [37, 155],
    order: 3,
  },
  {
    what: "The truck pulls away under the crate, which stays behind and catches up.",
    kind: "load lags",
    size: "barely",
    nodes: ["caisse", "camion"],
    frames: [GO - 5, GO + 22],
    order: 4,
  },
  {
    what: "The rear wheels don't turn, it skates on them.",
    kind: "wheels skid",
    size: "ordinary",
    nodes: [WHEELS[2], WHEELS[3]],
    frames: [GO - 6, RANGE[1]],
    order: 5,
  },
  {
    what: "The cable hangs like a rod, it should swing after each stop.",
    kind: "no drag in cable",
    size: "barely",
    nodes: all("lead1", "lead2", "lead3", "lead4"),
    frames: RANGE,
    order: 6,
  },
  {
    what: "A hitch in the elbow on the way home, one frame, 160.",
    kind: "one-frame twitch",
    size: "barely",
    nodes: all("fore", "wrist", "hand"),
    frames: [159, 161],
    order: 7,
  },
];
export const truth = {
  picture: { nodes: ["caisse", "camion", ...all("hand", "fore", "lead4")], frames: RANGE },
};
