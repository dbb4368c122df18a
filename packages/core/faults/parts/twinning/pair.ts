import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { BodyPart } from "../../../document/schema.ts";
import { carrierOf, type Figure } from "../../../rig/body.ts";
import { chainOf, curveNamesOfNode } from "../../../rig/pose.ts";
import { restPositionsOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";

/** Two arms: what ends each, hand or forearm, and its upper arm, as rig indices. */
export interface Pair {
  readonly left: number;
  readonly right: number;
  readonly leftArm: number;
  readonly rightArm: number;
}

/** The arms of a figure; null where it has no two. */
export function pairOf(figure: Figure): Pair | null {
  const last = (side: "left" | "right") => {
    for (const part of ["Hand", "Forearm"] as const) {
      const node = figure.parts.get(`${side}${part}` as BodyPart)?.[0];
      if (node !== undefined) return node;
    }
    return undefined;
  };
  const left = last("left");
  const right = last("right");
  const leftArm = figure.parts.get("leftUpperArm")?.[0];
  const rightArm = figure.parts.get("rightUpperArm")?.[0];
  if (left === undefined || right === undefined || leftArm === undefined || rightArm === undefined)
    return null;
  return { left, right, leftArm, rightArm };
}

/**
 * Whether a trunk lies level over its legs in the rest pose: the way from the hips to between the shoulders is less than
 * 45° away from being square to a leg. False where no leg is known.
 */
export function isLevel(study: Study, figure: Figure, { leftArm, rightArm }: Pair): boolean {
  const thigh = figure.parts.get("leftThigh")?.[0];
  const foot = figure.parts.get("leftFoot")?.[0];
  if (thigh === undefined || foot === undefined) return false;
  const rest = restPositionsOf(study);
  const hips = carrierOf(figure);
  const trunk: number[] = [];
  const leg: number[] = [];
  for (let axis = 0; axis < 3; axis++) {
    trunk.push((rest[3 * leftArm + axis] + rest[3 * rightArm + axis]) / 2 - rest[3 * hips + axis]);
    leg.push(rest[3 * foot + axis] - rest[3 * thigh + axis]);
  }
  const along = trunk[0] * leg[0] + trunk[1] * leg[1] + trunk[2] * leg[2];
  const sizes = lengthOf(trunk[0], trunk[1], trunk[2]) * lengthOf(leg[0], leg[1], leg[2]);
  return sizes > 0 && Math.abs(along) < Math.SQRT1_2 * sizes;
}

/** Keys of the right arm in the frames of the fault, those of the channels that change most first. */
export function armKeys(study: Study, pair: Pair, from: number, to: number) {
  const { frames } = gridOf(study);
  const rig = rigOf(study);
  const channels = chainOf(rig, pair.right)
    .filter((node) => node === pair.rightArm || node === pair.right || rig.parent[node] === pair.rightArm)
    .flatMap((node) => curveNamesOfNode(study, node))
    .flatMap((name) => {
      const curve = curveOf(study, name);
      if (curve === null || curve.width !== 1) return [];
      const index = curve.frames.findIndex((frame) => frame >= frames[from] - 0.5);
      if (index < 0 || curve.frames[index] > frames[to] + 0.5) return [];
      let change = 0;
      for (
        let key = Math.max(1, index);
        key < curve.frames.length && curve.frames[key] <= frames[to] + 0.5;
        key++
      ) {
        change += Math.abs(curve.values[key] - curve.values[key - 1]);
      }
      return [{ node: curve.node, channel: curve.channel, index, change }];
    })
    .sort((a, b) => b.change - a.change);
  return channels.slice(0, 6).map(({ change: _, ...key }) => key);
}
