import { readFileSync } from "node:fs";
import { Euler, type EulerOrder, Quaternion, Vector3 } from "three";
import { readBvh } from "../../packages/adapters/bvh/read.ts";
import type { Study } from "../../packages/core/base/study.ts";
import type { Channel, Curve, Shot } from "../../packages/core/document/model.ts";
import { worldOf } from "../../packages/core/rig/pose.ts";
import { rigOf } from "../../packages/core/rig/rig.ts";

/** Faults that are put into real motion capture, one key at a time. */

/** The capture of `tests/fixtures/capture`: someone crouches, jumps forward and lands; at a frame rate. */
export function capturedJump(rate = 24): Shot {
  const file = new URL("../fixtures/capture/forward-jump.bvh", import.meta.url);
  const { shot } = readBvh(readFileSync(file, "utf8"), { rate });
  if (shot === null) throw new Error("The capture of a jump cannot be read.");
  return shot;
}

/** A shot with other values in one key of some of a node's curves. */
export function withKeys(
  shot: Shot,
  node: string,
  frame: number,
  change: (channel: Channel, value: number) => number,
): Shot {
  const curves = shot.curves.map((curve): Curve => {
    const at = curve.frames.indexOf(frame);
    if (curve.node !== node || curve.width !== 1 || at < 0) return curve;
    const values = curve.values.slice();
    values[at] = change(curve.channel, values[at]);
    return { ...curve, values };
  });
  return { ...shot, curves };
}

/**
 * A shot in which a middle joint swivels on one frame about the line between the ends of its limb (hip and ankle):
 * the joint above it turns about that line, so that the end stays where it is.
 * @param study a study of the same shot, judged at every frame of it
 */
export function swivelled(
  shot: Shot,
  study: Study,
  limb: { upper: string; end: string },
  frame: number,
  degrees: number,
): Shot {
  const rig = rigOf(study);
  const upper = rig.indexOf.get(limb.upper) as number;
  const end = rig.indexOf.get(limb.end) as number;
  const at = frame - shot.range[0];
  const point = (node: number) => new Vector3().fromArray(worldOf(study, node).position, 3 * at);
  const turn = (node: number) => new Quaternion().fromArray(worldOf(study, node).orientation, 4 * at);
  const line = point(end).sub(point(upper)).normalize();
  const swivel = new Quaternion().setFromAxisAngle(line, (degrees * Math.PI) / 180);
  const local = turn(rig.parent[upper])
    .invert()
    .multiply(swivel.multiply(turn(upper)));
  const spec = shot.header.nodes.find(({ id }) => id === limb.upper);
  const order = (spec?.rotationOrder ?? "xyz").toUpperCase() as EulerOrder;
  const angles = new Euler().setFromQuaternion(local, order);
  return withKeys(shot, limb.upper, frame, (channel, value) => {
    if (!channel.startsWith("rotation.")) return value;
    return (angles[channel.slice(-1) as "x" | "y" | "z"] * 180) / Math.PI;
  });
}
