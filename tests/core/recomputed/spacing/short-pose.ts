import { carrierOf } from "../shared/carrier.ts";
import type { Recompute } from "../shared/compare.ts";
import { angleBetween, distance, inverse, sub, toRadians, turned } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** How far a part is from one frame to another: a head's turn against the neck's carrier, a hand's place against its arm's. */
function apartIn(shot: Sampled, node: number): { apart: (i: number, k: number) => number; near: number } {
  const isHead = shot.partOf(node) === "head";
  const [neck = node] = isHead ? shot.parts(node, "neck") : [];
  const carrier = isHead ? shot.rig.parent[neck] : carrierOf(shot, node);
  if (isHead) {
    const turn = (i: number) => shot.turnIn(node, carrier, i);
    return { apart: (i, k) => angleBetween(turn(i), turn(k)), near: toRadians(1.9) };
  }
  const side = shot.partOf(node).startsWith("left") ? "left" : "right";
  const joints = [shot.part(node, `${side}UpperArm`), shot.part(node, `${side}Forearm`), node];
  const [upper, lower] = [0, 1].map((n) => distance(shot.at(joints[n], 0), shot.at(joints[n + 1], 0)));
  const place = (i: number) =>
    turned(inverse(shot.turn(carrier, i)), sub(shot.at(node, i), shot.at(carrier, i)));
  return { apart: (i, k) => distance(place(i), place(k)), near: toRadians(1.9) * (upper + lower) };
}

/** On how many frames a part is within 1.9° of where it is at its slowest, one after the other. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const { apart, near } = apartIn(shot, node);
  const [from, to] = shot.spanOf(note);
  let slowest = Math.max(1, from);
  for (let i = slowest; i <= Math.min(shot.count - 1, to + 1); i++) {
    if (apart(i - 1, i) < apart(slowest - 1, slowest)) slowest = i;
  }
  const stays = [slowest - 1, slowest].map((pose) => {
    let [a, b] = [pose, pose];
    while (a > 0 && apart(a - 1, pose) <= near) a--;
    while (b < shot.count - 1 && apart(b + 1, pose) <= near) b++;
    return b - a + 1;
  });
  return Math.max(...stays);
};
