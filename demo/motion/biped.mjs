// @ts-check
/** A human figure: its skeleton, its centre of mass, and a solver that puts a posed body on its feet. */
import { curveAt } from "./keys.mjs";
import { nodeIn, poseOf } from "./skeleton.mjs";
import { footOn, heading, localTo, reach } from "./two-bone.mjs";
import { add, length, mix, rotate, scale, subtract, toAngles } from "./vector.mjs";

const sides = /** @type {const} */ (["l", "r"]);

/** Shape of the foot, in centimetres, seen from the ankle. */
export const foot = { ankleHeight: 8.5, ball: [0, -6.5, 13], heel: [0, -8.5, -5] };

/**
 * Nodes of a human figure of about 1.75 m, in centimetres, facing +z, arms hanging.
 * @param {{ hair?: boolean }} [with_] a plait of four links on the head
 * @returns {import("./skeleton.mjs").Node[]}
 */
export function bipedNodes({ hair = false } = {}) {
  /** @type {import("./skeleton.mjs").Node[]} */
  const nodes = [
    { id: "hips", translation: [0, 95, 0], rotationOrder: "yxz" },
    { id: "spine", parent: "hips", translation: [0, 10, -1], rotationOrder: "yxz" },
    { id: "chest", parent: "spine", translation: [0, 17, 0], rotationOrder: "yxz" },
    { id: "neck", parent: "chest", translation: [0, 24, -1], rotationOrder: "yxz" },
    { id: "head", parent: "neck", translation: [0, 9, 2], rotationOrder: "yxz" },
    { id: "head_end", parent: "head", translation: [0, 20, 1] },
  ];
  if (hair) {
    nodes.push({ id: "hair_1", parent: "head", translation: [0, 12, -9], rotationOrder: "xzy" });
    for (const n of [2, 3, 4]) {
      nodes.push({
        id: `hair_${n}`,
        parent: `hair_${n - 1}`,
        translation: [0, -10, 0],
        rotationOrder: "xzy",
      });
    }
    nodes.push({ id: "hair_end", parent: "hair_4", translation: [0, -9, 0] });
  }
  for (const side of sides) {
    const out = side === "l" ? 1 : -1;
    const arm = (/** @type {string} */ part) => `${part}_${side}`;
    nodes.push(
      { id: arm("shoulder"), parent: "chest", translation: [out * 4, 19, 2], rotationOrder: "yzx" },
      { id: arm("upper_arm"), parent: arm("shoulder"), translation: [out * 14, 0, -2], rotationOrder: "zxy" },
      { id: arm("forearm"), parent: arm("upper_arm"), translation: [0, -29, 0] },
      { id: arm("hand"), parent: arm("forearm"), translation: [0, -26, 0], rotationOrder: "xzy" },
      { id: arm("fingers"), parent: arm("hand"), translation: [0, -9, 0] },
      { id: arm("fingers_end"), parent: arm("fingers"), translation: [0, -9, 0] },
      { id: arm("thigh"), parent: "hips", translation: [out * 9, -3, 0], rotationOrder: "xzy" },
      { id: arm("shin"), parent: arm("thigh"), translation: [0, -43, 0] },
      { id: arm("foot"), parent: arm("shin"), translation: [0, -42, 0], rotationOrder: "yxz" },
      { id: arm("toe"), parent: arm("foot"), translation: foot.ball },
      { id: arm("toe_end"), parent: arm("toe"), translation: [0, -0.5, 7] },
    );
  }
  return nodes;
}

/**
 * Segments of the body: from, to, where between them the mass lies, share of the body's mass (de Leva 1996, men).
 * The trunk's point is set a little above half way between the hips and the neck.
 * @type {[from: string, to: string, along: number, mass: number][]}
 */
const segments = [
  ["hips", "neck", 0.55, 0.4346],
  ["head", "head_end", 0.4, 0.0694],
];
for (const side of sides) {
  segments.push(
    [`upper_arm_${side}`, `forearm_${side}`, 0.5772, 0.0271],
    [`forearm_${side}`, `hand_${side}`, 0.4574, 0.0162],
    [`hand_${side}`, `fingers_${side}`, 0.79, 0.0061],
    [`thigh_${side}`, `shin_${side}`, 0.4095, 0.1416],
    [`shin_${side}`, `foot_${side}`, 0.4395, 0.0433],
    [`foot_${side}`, `toe_${side}`, 0.5, 0.0137],
  );
}

/** Centre of mass of a posed human figure. @param {import("./skeleton.mjs").World} world */
export function massCentre(world) {
  let at = [0, 0, 0];
  for (const [from, to, along, mass] of segments) {
    at = add(at, scale(mix(nodeIn(world, from).position, nodeIn(world, to).position, along), mass));
  }
  return at;
}

/**
 * What a biped does, as functions of the frame.
 * @typedef {object} BipedAct
 * @property {import("./skeleton.mjs").Node[]} nodes
 * @property {(frame: number) => import("./skeleton.mjs").Angles} angles all angles but those of the legs
 * @property {(frame: number) => number[]} massCentre where the centre of mass is to be
 * @property {Record<"l" | "r", (frame: number) => { place: number[], yaw: number, pitch: number }>} feet
 * @property {(frame: number) => number} [toeFlat] 1: the toes stay flat on the ground; 0: they go with the foot
 */

/**
 * Legs (and toes) for a body that stands at a given place.
 * @param {BipedAct} act @param {number} frame @param {number[]} hips world place of the hips
 * @param {import("./skeleton.mjs").Angles} angles filled in
 * @param {import("./skeleton.mjs").Angles} near angles that the legs' should be near to
 * @returns {number} the larger stretch of the two legs
 */
export function placeLegs(act, frame, hips, angles, near = {}) {
  const world = poseOf(act.nodes, angles, { hips });
  const pelvis = nodeIn(world, "hips");
  let stretch = 0;
  for (const side of sides) {
    const { place, yaw, pitch } = act.feet[side](frame);
    const { ankle, orientation } = footOn(foot, place, yaw, pitch);
    const start = nodeIn(world, `thigh_${side}`).position;
    const out = side === "l" ? 1 : -1;
    const pole = add(
      add(heading(yaw), rotate(pelvis.orientation, [0, 0, 1])),
      rotate(pelvis.orientation, [out * 0.25, 0, 0]),
    );
    const leg = reach({ start, target: ankle, pole, upper: 43, lower: 42, bend: 1 });
    stretch = Math.max(stretch, leg.stretch);
    const names = [`thigh_${side}`, `foot_${side}`];
    const knee = [leg.angle, 0, 0];
    angles[names[0]] = toAngles("xzy", localTo(leg.upper, pelvis.orientation), near[names[0]]);
    angles[`shin_${side}`] = knee;
    const shin = poseOf(act.nodes, angles, { hips }).get(`shin_${side}`);
    angles[names[1]] = toAngles(
      "yxz",
      localTo(orientation, shin?.orientation ?? [0, 0, 0, 1]),
      near[names[1]],
    );
    angles[`toe_${side}`] = [-Math.max(0, pitch) * (act.toeFlat?.(frame) ?? 1), 0, 0];
  }
  return stretch;
}

/**
 * The hips' place for which the centre of mass is where the act wants it, the feet staying where they are.
 * @param {BipedAct} act @param {number} frame
 */
export function hipsFor(act, frame) {
  const wanted = act.massCentre(frame);
  const angles = { ...act.angles(frame) };
  let hips = add(wanted, [0, -4, 0]);
  for (let turn = 0; turn < 12; turn++) {
    placeLegs(act, frame, hips, angles);
    const off = subtract(wanted, massCentre(poseOf(act.nodes, angles, { hips })));
    hips = add(hips, scale(off, 1.2));
    if (length(off) < 1e-4) break;
  }
  return hips;
}

/**
 * Legs for hips (and everything else above the legs) as keyed: so that feet stand exactly, whatever the keys' tolerance.
 * @param {BipedAct} act @param {number} from @param {number} to
 * @param {import("./keys.mjs").KeyedCurve[]} keyed curves of everything but the legs
 * @returns {{ legs: Record<string, number[][]>, stretch: number[] }} angles per frame and node; stretch per frame
 */
export function legsUnder(act, from, to, keyed) {
  /** @type {Record<string, number[][]>} */
  const legs = {};
  const stretch = [];
  /** @type {import("./skeleton.mjs").Angles} */
  let near = {};
  for (let frame = from; frame <= to; frame++) {
    const { angles, places } = stateAt(act.nodes, keyed, frame);
    stretch.push(placeLegs(act, frame, places["hips"] ?? [0, 95, 0], angles, near));
    near = angles;
    for (const side of sides) {
      for (const part of ["thigh", "shin", "foot", "toe"]) {
        const id = `${part}_${side}`;
        legs[id] ??= [];
        legs[id].push(angles[id]);
      }
    }
  }
  return { legs, stretch };
}

/**
 * Angles and places that curves give at a frame; what they leave out stays at rest.
 * @param {import("./skeleton.mjs").Node[]} nodes
 * @param {import("./keys.mjs").KeyedCurve[]} curves @param {number} frame
 */
export function stateAt(nodes, curves, frame) {
  /** @type {import("./skeleton.mjs").Angles} */
  const angles = {};
  /** @type {Record<string, number[]>} */
  const places = {};
  for (const node of nodes) if (node.rotation !== undefined) angles[node.id] = [...node.rotation];
  for (const curve of curves) {
    const axis = "xyz".indexOf(curve.channel.slice(-1));
    const node = nodes.find((one) => one.id === curve.node);
    if (curve.channel.startsWith("rotation")) {
      angles[curve.node] ??= [0, 0, 0];
      angles[curve.node][axis] = curveAt(curve, frame);
    } else if (curve.channel.startsWith("translation")) {
      places[curve.node] ??= [...(node?.translation ?? [0, 0, 0])];
      places[curve.node][axis] = curveAt(curve, frame);
    }
  }
  return { angles, places };
}
