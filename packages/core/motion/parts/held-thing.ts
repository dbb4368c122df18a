import { bytes, floats } from "../../base/room.ts";
import type { Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { figureOfNode, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";

/** How far a hand may shift on what it holds, in body heights: a finger's breadth. */
const gripShare = 0.01;
/** How far a thing has to go meanwhile to be held, in body heights: two of a hand's shifts. */
const carriedShare = 2 * gripShare;

/**
 * 1 where both hands of a figure hold one thing: a node that is not of the figure goes some way, and keeps its distance
 * to both of them for half a second and more; in poses it goes that way in few frames. What is held is held before it
 * moves and after it, as long as both hands stay.
 */
export function heldByBoth(study: Study, figure: number, left: number, right: number): Uint8Array {
  const { count, rate } = gridOf(study);
  const held = bytes(count);
  const stature = statureOf(study, figure);
  const [tolerance, carried] = [gripShare * stature, carriedShare * stature];
  const half = Math.round(rate / 2);
  for (const thing of thingsOf(study, figure)) {
    const { position, still } = worldOf(study, thing);
    if (still) continue;
    const [a, b] = [distances(study, left, thing), distances(study, right, thing)];
    for (let from = 0; from + half < count; ) {
      let to = from;
      let way = 0;
      const isHeld = (i: number) =>
        Math.abs(a[i] - a[from]) <= tolerance && Math.abs(b[i] - b[from]) <= tolerance;
      while (to + 1 < count && isHeld(to + 1))
        way = Math.max(way, distanceBetween(position, from, position, ++to));
      if (to - from >= half && way > carried) {
        held.fill(1, from, to + 1);
        from = to;
      } else from++;
    }
  }
  return held;
}

/** Top nodes that are no part of the figure nor of another body: single things, and things of several nodes. */
function thingsOf(study: Study, figure: number): number[] {
  const { parent } = rigOf(study);
  const figures = figuresOf(study);
  const things: number[] = [];
  for (let node = 0; node < parent.length; node++) {
    if (parent[node] >= 0) continue;
    const owner = figureOfNode(study, node);
    if (owner !== figure && (owner < 0 || figures[owner].kind === "other")) things.push(node);
  }
  return things;
}

/** Distance between two nodes at each sample, metres. */
export function distances(study: Study, one: number, other: number): Float64Array {
  const [a, b] = [worldOf(study, one).position, worldOf(study, other).position];
  const apart = floats(a.length / 3);
  for (let i = 0; i < apart.length; i++) apart[i] = distanceBetween(a, i, b, i);
  return apart;
}
