import {
  angleBetween,
  distance,
  inverse,
  type Quat,
  range,
  sub,
  turnBetween,
  turned,
  type Vec,
} from "./geometry.ts";
import type { Sampled } from "./sampled.ts";

/** One way in which a node moves from pose to pose. */
export interface Pace {
  /** Samples of the poses; the way from the pose before to each of them, per frame, as a vector and as its length. */
  readonly poses: readonly number[];
  readonly ways: readonly Vec[];
  readonly steps: readonly number[];
}

/** A pose on twos or threes counts once; one that step keys hold for longer is a rest on each of its frames. */
export function posesOf(shot: Sampled, node: number): number[] {
  const held = shot.held(node);
  const longest = Math.max(1, Math.floor((3 * shot.rate) / 24 + 0.01));
  const starts = range(0, shot.count - 1).filter((i) => !held[i]);
  const lengthOf = (k: number) => (starts[k + 1] ?? shot.count) - starts[k];
  return starts.flatMap((start, k) => {
    if (lengthOf(k) <= longest) return [start];
    // The way to the next pose takes as long as that pose is shown.
    const next = k + 1 < starts.length ? lengthOf(k + 1) : 1;
    return range(start, start + lengthOf(k) - (next > longest ? 1 : next));
  });
}

/**
 * Travel or turning of a node from pose to pose: in the world, or, where a carrier is given, as it is seen from there.
 * Over the ground, height is no travel.
 */
export function paceOf(
  shot: Sampled,
  node: number,
  kind: "travel" | "over ground" | "turn",
  carrier = -1,
): Pace {
  const poses = posesOf(shot, node);
  const place = (i: number): Vec => {
    const [x, y, z] = shot.at(node, i);
    if (kind === "over ground") return [x, 0, z];
    return carrier < 0
      ? [x, y, z]
      : turned(inverse(shot.turn(carrier, i)), sub([x, y, z], shot.at(carrier, i)));
  };
  const turn = (i: number): Quat => (carrier < 0 ? shot.turn(node, i) : shot.turnIn(node, carrier, i));
  const ways = poses.map((i, k): Vec => {
    if (k === 0) return [0, 0, 0];
    const way =
      kind === "turn" ? turnBetween(turn(poses[k - 1]), turn(i)) : sub(place(i), place(poses[k - 1]));
    const frames = i - poses[k - 1];
    return [way[0] / frames, way[1] / frames, way[2] / frames];
  });
  const steps = poses.map((i, k) => {
    if (k === 0) return 0;
    const before = poses[k - 1];
    const way = kind === "turn" ? angleBetween(turn(before), turn(i)) : distance(place(before), place(i));
    return way / (i - before);
  });
  return { poses, ways, steps };
}

/** The node above another one that a message names behind "against". */
export function carrierIn(shot: Sampled, node: number, message: string): number {
  if (!message.includes(" against ")) return -1;
  let found = -1;
  for (let at = shot.rig.parent[node]; at >= 0; at = shot.rig.parent[at]) {
    if (found < 0 && message.includes(` against ${shot.nameOf(at)} `)) found = at;
  }
  if (found < 0) throw new Error(`no carrier in "${message}"`);
  return found;
}
