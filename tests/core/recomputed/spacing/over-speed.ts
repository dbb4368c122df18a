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
 * For a peak speed: the fastest step of a hand in the frame of what carries the arm, of the head against what carries the neck, or of the
 * chest against the hips; one that is over twice those beside it is 1.875 times as fast for what is over them. Else the fastest step of the frames that are marked: the turn against the parent, of an upper arm that of the line to the
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
  const isPeak = note.measured.quantity.startsWith("peak speed");
  const hips = parts.get("root")?.[0] as number;
  const first = (name: string) => parts.get(name as never)?.[0];
  const arm = /^(left|right)Hand$/.exec(part)?.[1];
  const carrier =
    part === "head"
      ? shot.rig.parent[first("neck") ?? node]
      : arm === undefined
        ? hips
        : shot.rig.parent[first(`${arm}UpperArm`) as number];
  const inFrame = (i: number) =>
    turned(inverse(shot.turn(carrier, i)), sub(shot.at(node, i), shot.at(carrier, i)));
  const inCarrier = (i: number) => shot.turnIn(node, carrier, i);
  const stepInCarrier = (a: number, b: number) =>
    note.measured.unit === "deg/s"
      ? toDegrees(angleBetween(inCarrier(a), inCarrier(b)))
      : distance(inFrame(a), inFrame(b));
  if (isPeak) {
    const speed = (i: number) => {
      const k = poses.findIndex((pose) => pose >= i);
      const [a, b] = k < 1 ? [i - 1, i] : [poses[k - 1], poses[k]];
      return (stepInCarrier(a, b) / (b - a)) * shot.rate;
    };
    const peaks = range(from + 1, to).map((i) => {
      const beside = Math.max(speed(i - 1), speed(i + 1));
      return speed(i) > 2 * beside ? beside + 1.875 * (speed(i) - beside) : speed(i);
    });
    return Math.max(...peaks);
  }
  const speeds = range(from + 1, to).map((i) => {
    const k = poses.findIndex((pose) => pose >= i);
    const [a, b] = k < 0 ? [i - 1, i] : [poses[k - 1], poses[k]];
    return (step(a, b) / (b - a)) * shot.rate;
  });
  return Math.max(...speeds);
};
