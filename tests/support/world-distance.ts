import type { Shot } from "../../packages/core/document/model.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { worldOf } from "../../packages/core/rig/pose.ts";
import { rigOf } from "../../packages/core/rig/rig.ts";
import { defaultSettings } from "../../packages/core/settings/resolve.ts";
import { studyOf } from "../../packages/core/settings/study.ts";
import { gridOf } from "../../packages/core/time/grid.ts";

/** World positions of a shot's nodes by their names, metres, 3 numbers per frame. */
export function worldPositions(shot: Shot): ReadonlyMap<string, Float64Array> {
  const study = studyOf(shot, defaultSettings(registry));
  return new Map(rigOf(study).ids.map((id, node) => [id, worldOf(study, node).position]));
}

/** Judged frames of a shot. */
export function frameCount(shot: Shot): number {
  return gridOf(studyOf(shot, defaultSettings(registry))).count;
}

/**
 * The largest difference of a coordinate of a shot's nodes in another shot, over all frames, in metres.
 * @param renamed what a node of the first is called in the other
 * @returns infinity where a node is missing, or where the shots have other numbers of frames
 */
export function worldDistance(one: Shot, other: Shot, renamed: (id: string) => string = (id) => id): number {
  const others = worldPositions(other);
  let largest = 0;
  for (const [id, positions] of worldPositions(one)) {
    const there = others.get(renamed(id));
    if (there === undefined || there.length !== positions.length) return Number.POSITIVE_INFINITY;
    for (const [at, value] of positions.entries()) largest = Math.max(largest, Math.abs(value - there[at]));
  }
  return largest;
}
