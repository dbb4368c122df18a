import { excused } from "../../base/excuse.ts";
import { tangents } from "../../base/rotation-vector.ts";
import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { firstKeyFrom } from "../../curve/keys.ts";
import { figureOfNode } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { reachOf } from "../../rig/reach.ts";
import { gridOf } from "../../time/grid.ts";
import { posesOf } from "../path/pace.ts";
import { impactSpeedsOf } from "./impact.ts";

/** What of a part changes: its travel through the world, or its turning. */
export type Jolted = "position" | "orientation";

/**
 * An impact turns the speed of a fall into at most as much upward: a collision gives back no more than it takes (its
 * coefficient of restitution is 1 at the most). So a part's velocity changes by at most this many times that speed.
 */
const mostGiven = 2;
/** Least share of a change that goes upward: the ground pushes up (our choice). */
const leastUpward = 0.5;

/**
 * Whether an impact of the whole body gives a part its sudden change between two samples. The greatest change of the
 * part's velocity there is at the impact, goes at least half upward (the travel of a part; what turns is shaken by it
 * whichever way), and is no greater than the impact can give.
 * @param from first sample of the change
 * @param to last sample of it
 */
export function isJolted(study: Study, node: number, from: number, to: number, kind: Jolted): boolean {
  const figure = figureOfNode(study, node);
  if (figure < 0) return false;
  const speeds = impactSpeedsOf(study, figure);
  let hasImpact = false;
  for (let i = from; i <= to && !hasImpact; i++) hasImpact = speeds[i] > 0;
  if (!hasImpact) return false;
  const change = greatestChange(study, node, from, to, kind);
  if (change === null) return false;
  const { at, size, upward } = change;
  if (speeds[at] === 0 || size > mostGiven * speeds[at]) return false;
  if (kind === "position" && upward < leastUpward * size) return false;
  excused(node, at, at, "the whole body has an impact there");
  return true;
}

/** The greatest change of velocity from pose to pose at the samples from..to, m/s, and how much of it is upward. */
function greatestChange(study: Study, node: number, from: number, to: number, kind: Jolted) {
  const { rate } = gridOf(study);
  const poses = posesOf(study, node);
  const first = Math.max(0, firstKeyFrom(poses, from + 1) - 1);
  const last = Math.max(first, firstKeyFrom(poses, to + 1) - 1);
  const start = Math.max(0, first - 1);
  const shown = poses.subarray(start, Math.min(poses.length, last + 2));
  const world = worldOf(study, node);
  // Unrolled turns are counted from the window's own first pose, positions from the range's.
  const path = kind === "position" ? world.position : tangents(world.orientation, shown);
  if (path === null) return null;
  const scale = kind === "position" ? rate : rate * reachOf(study, node);
  let greatest: { at: number; size: number; upward: number } | null = null;
  for (let k = 1; k + 1 < shown.length; k++) {
    const place = (pose: number) => 3 * (kind === "position" ? shown[pose] : pose);
    const a = place(k - 1);
    const b = place(k);
    const c = place(k + 1);
    const before = shown[k] - shown[k - 1];
    const after = shown[k + 1] - shown[k];
    const along = (axis: number) =>
      scale * ((path[c + axis] - path[b + axis]) / after - (path[b + axis] - path[a + axis]) / before);
    const upward = along(1);
    const size = lengthOf(along(0), upward, along(2));
    if (greatest === null || size > greatest.size) greatest = { at: shown[k], size, upward };
  }
  return greatest;
}
