import type { Recompute } from "../shared/compare.ts";
import { angleBetween, range, toDegrees } from "../shared/geometry.ts";

/** Frames of the note in which neither the joint that is told nor those after it up to the hand turn by 0.25° a second. */
export const recompute: Recompute = (note, shot) => {
  const first = shot.nodeOf(note);
  const part = shot.partOf(first);
  const outer = part === "head" ? [] : ["UpperArm", "Forearm", "Hand"];
  const inner = outer.findIndex((name) => part.endsWith(name));
  const side = part.startsWith("left") ? "left" : "right";
  const rest = outer.slice(inner + 1).map((name) => shot.part(first, `${side}${name}`));
  const joints = [first, ...rest];
  const turn = (node: number, i: number) => shot.turnIn(node, shot.rig.parent[node], i);
  const [from, to] = shot.spanOf(note);
  return range(from + 1, to).filter((i) =>
    joints.every((node) => toDegrees(angleBetween(turn(node, i - 1), turn(node, i))) * shot.rate < 0.25),
  ).length;
};
