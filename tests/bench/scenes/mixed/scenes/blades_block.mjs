// @ts-check

import { figure, versions } from "../../people/kit/declare.mjs";
import { about as axis } from "../../people/kit/math.mjs";
import { follow, makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { dropKeys, holdPose, stepped } from "../kit/blocking.mjs";
import { blackPoses } from "../kit/fencer-black.mjs";
import { redPoses } from "../kit/fencer-red.mjs";
import { LAST, POSES } from "../kit/fencers.mjs";
import { wordsOf } from "../kit/help.mjs";

export const name = "blades_block";
export const about =
  "A blocking on step keys: the red fencer cuts at the black one's head, it is parried; the black one lunges, the red one springs back and turns the blade aside.";

/** @param {boolean} bad */
export function build(bad) {
  const make = (/** @type {string} */ id, /** @type {number} */ stature) =>
    skeleton({
      id,
      stature,
      space: id,
      spines: 2,
      words: wordsOf(
        "anca lombi/torace collo testa cima spalla braccio avambraccio mano dita coscia stinco piede pianta punta",
      ),
      side: (w, s) => `${w}_${s === "L" ? "sin" : "des"}`,
      orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xyz" },
    });
  const rosso = make("rosso", 1.82);
  const nero = make("nero", 1.76);
  const red = redPoses();
  const black = blackPoses();
  if (bad) {
    // Hips of the parry were pushed back past the rear foot.
    red.hips[48] = [0.02, -0.31, -0.8];
    red.hipsRot[48] = [-8, 24, 0];
    red.spine[48] = [-8, 8, 0];
    red.chest[48] = [-10, 10, 0];
    // The cut: only the arm with the sword was posed anew.
    for (const k of ["spine", "chest", "neck", "head", "armL", "wristL"]) red[k][17] = red[k][14];
    // The rear foot of the red one was nudged with the press of the blades.
    red.footL[22] = [0.15, 0, -0.21, 42];
  }
  for (const p of [red, black])
    for (const k of ["footL", "footR", "rollL", "rollR"]) if (p[k]) p[k] = stepped(p[k]);
  const blade = (/** @type {string} */ fig) => ({
    id: `lama_${fig}`,
    pose: follow([{ fig, s: "R", from: 1, to: LAST, grip: { p: [0, 0, 0], q: axis(0, 90) } }], () => null),
    shapes: [
      { kind: "capsule", radius: 0.008, from: [0, 0.08, 0], to: [0, 0.86, 0] },
      { kind: "capsule", radius: 0.014, from: [0, -0.06, 0], to: [0, 0.06, 0] },
    ],
  });
  const b = makeShot({
    name,
    fps: 24,
    last: LAST,
    unit: 0.01,
    poses: POSES,
    shot: { stage: "blocking" },
    items: [{ skel: rosso, perf: red }, { skel: nero, perf: black }, blade("rosso"), blade("nero")],
  });
  if (bad) {
    const n = (/** @type {string} */ id) => `rosso:${id}`;
    // The black one's sword was forgotten on one pose.
    dropKeys(b.doc, ["lama_nero"], [26]);
    // The draw back before the lunge came three frames late.
    for (const c of b.doc.curves)
      if (c.node.startsWith("nero:") || c.node === "lama_nero")
        for (const k of c.keys) if (k[0] === 33) k[0] = 36;
    holdPose(b.doc, n("testa"), "rotation.y", 63, 64, 9);
  }
  b.doc.figures = [figure(rosso), figure(nero)];
  b.doc.props = ["rosso", "nero"].map((s) => ({
    node: `lama_${s}`,
    mass: 0.9,
    heldBy: [{ node: `${s}:mano_des`, frames: [1, LAST] }],
  }));
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "When the red one turns the blade aside, the hips are behind the rear foot; on this pose he sits down on the floor.",
    kind: "off-balance",
    size: "strong",
    nodes: ["rosso:anca"],
    frames: [48, 57],
    order: 1,
  },
  {
    what: "The pose of the cut is not a pose: the arm has been keyed, back, head and left arm are still those of the step.",
    kind: "keys missing",
    size: "ordinary",
    nodes: ["lombi", "torace", "collo", "testa", "braccio_sin", "avambraccio_sin"].map((id) => `rosso:${id}`),
    frames: [14, 21],
    order: 2,
  },
  {
    what: "The black one's sword stays in the air where the parry was, the hand has left without it.",
    kind: "grip-slip",
    size: "strong",
    nodes: ["lama_nero", "nero:mano_des"],
    frames: [26, 36],
    order: 3,
  },
  {
    what: "The drawing back before the lunge stands for one frame; nobody will see it.",
    kind: "pose too short",
    size: "ordinary",
    nodes: ["nero:anca", "nero:torace", "nero:braccio_des", "nero:mano_des"],
    frames: [33, 37],
    order: 4,
  },
  {
    what: "The red one's rear foot is somewhere else on the pose of the press, seven centimetres nearer, and goes back after it.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["rosso:piede_sin", "rosso:pianta_sin"],
    frames: [20, 27],
    order: 5,
  },
  {
    what: "A stray key: the red one's head is turned a little for two frames in the last guard.",
    kind: "pop",
    size: "barely",
    nodes: ["rosso:testa"],
    frames: [62, 66],
    order: 6,
  },
];
