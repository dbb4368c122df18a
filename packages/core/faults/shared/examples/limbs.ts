import { radiansPerDegree } from "../../../base/constants.ts";
import { conjugate, multiplyQuaternions } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { pointAt, scaled, type Vector } from "../../../base/vector.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Channel, Shot } from "../../../document/model.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";
import { defaultSettings } from "../../../settings/resolve.ts";
import { studyOf } from "../../../settings/study.ts";
import { gridOf } from "../../../time/grid.ts";
import { eulersNear } from "../posing/euler.ts";
import { type LimbJoints, limbTo } from "../posing/two-bone.ts";
import { rekeyed, valueIn } from "./keying.ts";

/** Arms and legs whose ends are put somewhere, as a rig with a handle at the wrist or the ankle does it. */

const axes = ["x", "y", "z"] as const;

/** Where a node is in the world at a frame, in the document's units. @throws Error where the shot has no such node */
export type PlaceOf = (node: string, frame: number) => Vector;

/** Where nodes are in the world. */
export function placesIn(shot: Shot): PlaceOf {
  const study = posed(shot);
  const { frames } = gridOf(study);
  const unit = metresPerUnitOf(study);
  return (node, frame) =>
    scaled(pointAt(worldOf(study, nodeIn(study, node)).position, frames.indexOf(frame)), 1 / unit);
}

export interface Reaching {
  /** Nodes from the limb's root to its end, such as thigh, shin and foot. */
  readonly limb: readonly [root: string, middle: string, end: string];
  readonly frames: readonly [first: number, last: number];
  /** Where the end is to be, from where it is; in the document's units. It stays where it is if left out. */
  readonly to?: (place: Vector, frame: number) => Vector;
}

/**
 * Keys of a limb on every frame of a stretch, so that its end is where it is wanted and keeps its turn in the world.
 * @param was the shot from which the end's place is taken; `shot` itself if left out
 */
export function reaching(
  shot: Shot,
  { limb, frames: [first, last], to = (place) => place }: Reaching,
  was: Shot = shot,
): KeyEdit[] {
  const [before, now] = [posed(was), posed(shot)];
  const rig = rigOf(before);
  const [root, middle, end] = limb.map((node) => nodeIn(before, node));
  const joints: LimbJoints = { root, middle, end };
  const { frames } = gridOf(before);
  const [lo, hi] = [frames.indexOf(first), frames.indexOf(last)];
  const unit = metresPerUnitOf(before);
  const position = new Float64Array(3 * (hi - lo + 1));
  const goal = worldOf(before, end);
  for (let i = lo; i <= hi; i++) {
    const place = scaled(pointAt(goal.position, i), 1 / unit);
    position.set(scaled(to(place, frames[i]), unit), 3 * (i - lo));
  }
  const orientation = goal.orientation.subarray(4 * lo, 4 * hi + 4);
  const turns = limbTo(before, now, joints, { lo, hi }, { position, orientation });
  return (["root", "middle", "end"] as const).flatMap((joint, n) =>
    turned(shot, was, limb[n], rig.order[joints[joint]], first, last, (i, out) =>
      multiplyQuaternions(conjugate(rig.fixedRotation, 4 * joints[joint]), 0, turns[joint], 4 * i, out, 0),
    ),
  );
}

/** Keys of a node's turns on every frame; an axis that stays as it is gets none. */
function turned(
  shot: Shot,
  was: Shot,
  node: string,
  order: number,
  first: number,
  last: number,
  turnAt: (i: number, out: Float64Array) => void,
): KeyEdit[] {
  const own = new Float64Array(4);
  const angles: number[][] = [];
  let near = axes.map((axis) => radiansPerDegree * valueIn(was, node, `rotation.${axis}`, first));
  for (let i = 0; i <= last - first; i++) {
    turnAt(i, own);
    near = [...eulersNear(order, own, 0, near)];
    angles.push(near.map((angle) => angle / radiansPerDegree));
  }
  return axes.flatMap((axis, n) => {
    const channel = `rotation.${axis}` as Channel;
    if (angles.every((at, i) => Math.abs(at[n] - valueIn(shot, node, channel, first + i)) < 1e-6)) return [];
    const keys = angles.map((at, i) => {
      const [a, b] = [angles[Math.max(0, i - 1)][n], angles[Math.min(angles.length - 1, i + 1)][n]];
      return { frame: first + i, value: at[n], slope: (b - a) / 2 };
    });
    return rekeyed(shot, node, channel, keys);
  });
}

const posed = (shot: Shot): Study => studyOf(shot, defaultSettings([]));

function nodeIn(study: Study, node: string): number {
  const index = rigOf(study).indexOf.get(node);
  if (index === undefined) throw new Error(`The shot has no node ${node}.`);
  return index;
}
