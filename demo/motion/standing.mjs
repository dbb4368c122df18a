// @ts-check
/** A figure that keeps its feet where they are: what it does with its body and its arms, keyed. */
import { hipsFor, legsUnder, massCentre, stateAt } from "./biped.mjs";
import { seriesAt } from "./drag.mjs";
import { footTrack } from "./gait.mjs";
import { keyCourse, keySolved } from "./keying.mjs";
import { nodeIn, poseOf } from "./skeleton.mjs";
import { localTo, reach } from "./two-bone.mjs";
import { fromAngles, multiply, rotate, toAngles } from "./vector.mjs";

/**
 * @typedef {object} Stance
 * @property {import("./skeleton.mjs").Node[]} nodes
 * @property {{ from: number, to: number }} range
 * @property {(frame: number) => import("./skeleton.mjs").Angles} angles of all that is keyed but the legs
 * @property {(frame: number) => number[]} massCentre
 * @property {{ l: number[], r: number[] }} feet where they stand
 * @property {{ l: number, r: number }} [turned] headings of the feet; a little outwards if left out
 */

/**
 * Keys the body and puts the legs under it.
 * @param {Stance} stance
 */
export function keyStance({ nodes, range, angles, massCentre: wanted, feet, turned = { l: 9, r: -8 } }) {
  const plant = (/** @type {"l" | "r"} */ side) =>
    footTrack([{ ...range, at: feet[side], yaw: turned[side], heelOff: range.to + 9 }]);
  const act = { nodes, angles, massCentre: wanted, feet: { l: plant("l"), r: plant("r") } };
  const body = (/** @type {string} */ id) => nodes.find((node) => node.id === id) ?? nodes[0];
  const curves = keyCourse(body("hips"), "translation", (f) => hipsFor(act, f), {
    ...range,
    tolerance: 0.04,
  });
  for (const id of Object.keys(angles(range.from))) {
    const tolerance = id === "hips" ? 0.05 : /arm|hand|fingers/.test(id) ? 0.3 : 0.12;
    const one = (/** @type {number} */ f) => /** @type {Record<string, number[]>} */ (angles(f))[id];
    curves.push(...keyCourse(body(id), "rotation", one, { ...range, tolerance }));
  }
  // At rest the figure stands upright, whatever its first pose is: only what is not keyed stays as it is posed.
  for (const { node, channel } of curves) {
    const rest = body(node).rotation;
    if (rest !== undefined && channel.startsWith("rotation")) rest["xyz".indexOf(channel.slice(-1))] = 0;
  }
  const { legs, stretch } = legsUnder(act, range.from, range.to, curves);
  for (const id of Object.keys(legs)) curves.push(...keySolved(id, legs[id], range.from));
  return { curves, stretch: Math.max(...stretch), massCentreAt: centreAt(nodes, curves, range) };
}

/**
 * Arms that hold something: both wrists where they are wanted at each frame, the hands turned with the thing.
 * @param {import("./skeleton.mjs").Node[]} nodes @param {import("./keys.mjs").KeyedCurve[]} curves
 * @param {{ from: number, to: number }} range
 * @param {(side: "l" | "r", frame: number, world: import("./skeleton.mjs").World) => { wrist: number[], turned: number[] }} hold
 * @returns {{ curves: import("./keys.mjs").KeyedCurve[], stretch: number }}
 */
export function keyHoldingArms(nodes, curves, { from, to }, hold) {
  /** @type {Record<string, number[][]>} */
  const solved = {};
  let stretch = 0;
  for (let f = from; f <= to; f++) {
    const { angles, places } = stateAt(nodes, curves, f);
    for (const side of /** @type {const} */ (["l", "r"])) {
      const out = side === "l" ? 1 : -1;
      const [upper, forearm, hand] = ["upper_arm", "forearm", "hand"].map((part) => `${part}_${side}`);
      const world = poseOf(nodes, angles, places);
      const { wrist, turned } = hold(side, f, world);
      const pole = rotate(nodeIn(world, "chest").orientation, [out * 0.35, -0.35, -1]);
      const start = nodeIn(world, upper).position;
      const arm = reach({ start, target: wrist, pole, upper: 29, lower: 26, bend: -1 });
      stretch = Math.max(stretch, arm.stretch);
      const list = [upper, forearm, hand].map((id) => (solved[id] ??= []));
      const shoulder = nodeIn(world, `shoulder_${side}`).orientation;
      list[0].push(toAngles("zxy", localTo(arm.upper, shoulder), list[0].at(-1)));
      list[1].push([arm.angle, 0, 0]);
      angles[upper] = list[0][list[0].length - 1];
      angles[forearm] = [arm.angle, 0, 0];
      const below = nodeIn(poseOf(nodes, angles, places), forearm).orientation;
      const grip = fromAngles("yxz", [-70, 0, out * -8]);
      list[2].push(toAngles("xzy", localTo(multiply(turned, grip), below), list[2].at(-1)));
    }
  }
  return { curves: Object.keys(solved).flatMap((id) => keySolved(id, solved[id], from)), stretch };
}

/**
 * Where a keyed figure's centre of mass is.
 * @param {import("./skeleton.mjs").Node[]} nodes @param {import("./keys.mjs").KeyedCurve[]} curves
 * @param {{ from: number, to: number }} range
 */
function centreAt(nodes, curves, { from, to }) {
  const series = [];
  for (let f = from; f <= to; f++) {
    const { angles, places } = stateAt(nodes, curves, f);
    series.push(massCentre(poseOf(nodes, angles, places)));
  }
  return seriesAt(series, from);
}
