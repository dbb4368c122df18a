import type { Recompute } from "../shared/compare.ts";
import {
  angleBetween,
  angleOf,
  distance,
  inverse,
  range,
  sub,
  toDegrees,
  turned,
} from "../shared/geometry.ts";
import { posesOf } from "../shared/paces.ts";

/**
 * The fastest step of the frames that are marked: the turn against the parent, of an upper arm that of the line to the
 * elbow; or the travel, of hips along the ground.
 */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const parent = shot.rig.parent[node];
  const { parts, partOf } = shot.figures[shot.figureOf(node)];
  const part = partOf.get(node) ?? "";
  const [from, to] = shot.spanOf(note);
  const elbow = /^(left|right)UpperArm$/.exec(part)?.[1];
  const end =
    elbow === undefined ? undefined : parts.get(elbow === "left" ? "leftForearm" : "rightForearm")?.[0];
  const inParent = (i: number) => (parent < 0 ? shot.turn(node, i) : shot.turnIn(node, parent, i));
  const bone = (i: number) => {
    const way = sub(shot.at(end as number, i), shot.at(node, i));
    return parent < 0 ? way : turned(inverse(shot.turn(parent, i)), way);
  };
  const step = (a: number, b: number) => {
    if (note.measured.unit === "deg/s") {
      return toDegrees(
        end === undefined ? angleBetween(inParent(a), inParent(b)) : angleOf(bone(a), bone(b)),
      );
    }
    const [p, q] = [shot.at(node, a), shot.at(node, b)];
    return part === "root" ? distance([p[0], 0, p[2]], [q[0], 0, q[2]]) : distance(p, q);
  };
  const poses = posesOf(shot, node);
  const speeds = range(from + 1, to).map((i) => {
    const k = poses.findIndex((pose) => pose >= i);
    const [a, b] = k < 0 ? [i - 1, i] : [poses[k - 1], poses[k]];
    return (step(a, b) / (b - a)) * shot.rate;
  });
  return Math.max(...speeds);
};
