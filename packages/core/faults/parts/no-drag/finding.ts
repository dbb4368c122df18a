import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { turnsOfOrientations } from "../../../motion/path/rotation.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Finding } from "../../check.ts";

/** With numbers in working units. */
export interface NoDragFinding extends Finding {
  readonly numbers: {
    readonly response: number;
    readonly lag: number;
    readonly links: number;
    readonly stiff: number;
    /** What carries the chain. */
    readonly carrier: number;
    /** What carries the link that the note is on. */
    readonly before: number;
    readonly shift: number;
    /** Which axis of the first link lacks keys, 0 to 3; −1 where its rotation has some. */
    readonly missing: number;
    /** 1 where the chain beats by itself, as a wing or the tail of a fish. */
    readonly beats?: number;
  };
}

/**
 * What all findings of a chain have: how far its end is seen to be where it should not.
 * @param joints of the chain, the inmost first @param node on which the note stands
 */
export function findingOf(
  study: Study,
  figure: number,
  joints: readonly number[],
  node: number,
  from: number,
  to: number,
) {
  const size = 0.2 * Math.min(farReachOf(study, joints[0]), 0.3 * statureOf(study, figure));
  return { node, figure, from, to, size, amiss: Math.max(size, swungBy(study, joints, from, to)) };
}

/** How far the end of a chain would be behind on the average if it followed its carrier's turns in time, in metres. */
function swungBy(study: Study, joints: readonly number[], from: number, to: number): number {
  const carrier = rigOf(study).parent[joints[0]];
  const turns = turnsOfOrientations(worldOf(study, carrier).orientation);
  let turned = 0;
  for (let i = from + 1; i <= to; i++) turned += turns[i];
  return (turned / Math.max(1, to - from)) * shiftOf(study, 0) * farReachOf(study, joints[0]);
}

export function numbersOf(study: Study, joints: readonly number[], node: number) {
  const { parent } = rigOf(study);
  return { links: joints.length, carrier: parent[joints[0]], before: parent[node] };
}

/** Frames by which keys have to go later for a lag of one and a half frames (at 24 per second). */
export function shiftOf(study: Study, lag: number): number {
  return Math.max(1, Math.round((1.5 * gridOf(study).rate) / referenceRate - Math.min(0, lag)));
}
