import type { Note } from "@keyside/core";
import type { Recompute } from "../shared/compare.ts";
import { angleBetween, distance, range, toDegrees } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** Frames in which a part, or the trunk, stands still, or the most that a limb turns in all of a shot. */
export const recompute: Recompute = (note, shot) => {
  if (note.measured.unit === "deg") return mostTurn(note, shot);
  return note.measured.quantity.includes("trunk") ? stillTrunk(note, shot) : stillPart(note, shot);
};

const own = (shot: Sampled, node: number, i: number) => shot.turnIn(node, shot.rig.parent[node], i);

/** A node and those that hang on it, one on the other. */
const chainFrom = (node: number, shot: Sampled): number[] =>
  node < 0 ? [] : [node, ...chainFrom(shot.rig.parent.indexOf(node), shot)];

/** The joint that is told and those after it up to the hand; a head alone. */
function jointsOf(note: Note, shot: Sampled): number[] {
  const first = shot.nodeOf(note);
  const part = shot.partOf(first);
  const outer = part === "head" ? [] : ["UpperArm", "Forearm", "Hand"];
  const inner = outer.findIndex((name) => part.endsWith(name));
  // What is no arm is a chain, whose last node only marks where it ends.
  if (part !== "head" && inner < 0) return chainFrom(first, shot).slice(0, -1);
  const side = part.startsWith("left") ? "left" : "right";
  return [first, ...outer.slice(inner + 1).map((name) => shot.part(first, `${side}${name}`))];
}

/** Frames of the note in which none of its joints turns by 0.25° a second; of an arm, by 2.5°. */
function stillPart(note: Note, shot: Sampled): number {
  const joints = jointsOf(note, shot);
  const limit = shot.partOf(joints[0]) === "head" ? 0.25 : 2.5;
  const [from, to] = shot.spanOf(note);
  return range(from + 1, to).filter((i) =>
    joints.every(
      (node) => toDegrees(angleBetween(own(shot, node, i - 1), own(shot, node, i))) * shot.rate < limit,
    ),
  ).length;
}

/** Degrees that a joint of an arm turns at most against its parent from where it stood on the first frame. */
function mostTurn(note: Note, shot: Sampled): number {
  const [from, to] = shot.spanOf(note);
  const turns = jointsOf(note, shot).flatMap((node) =>
    range(from, to).map((i) => toDegrees(angleBetween(own(shot, node, from), own(shot, node, i)))),
  );
  return Math.max(...turns);
}

/** Frames of the note in which the hips keep their place and neither they nor the head turn by 0.25° a second in the world. */
function stillTrunk(note: Note, shot: Sampled): number {
  const root = shot.nodeOf(note);
  const head = shot.part(root, "head");
  const [from, to] = shot.spanOf(note);
  return range(from + 1, to).filter(
    (i) =>
      distance(shot.at(root, i), shot.at(root, i - 1)) < 1e-5 &&
      [root, head].every(
        (node) => toDegrees(angleBetween(shot.turn(node, i - 1), shot.turn(node, i))) * shot.rate < 0.25,
      ),
  ).length;
}
