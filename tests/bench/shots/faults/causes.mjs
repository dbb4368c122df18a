// @ts-check
/** Faults of cause and effect: what goes before a move, what comes after it, and how long it is to be seen. */
import { noAnticipation, noSettle } from "./causes-jumps.mjs";
import { shortPose, straightSet } from "./causes-poses.mjs";
import { lateReach } from "./causes-reaches.mjs";
import { mirroredSteps } from "./causes-steps.mjs";
import { quickTop } from "./causes-tops.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const causeFaults = [
  noAnticipation,
  noSettle,
  lateReach,
  mirroredSteps,
  shortPose,
  straightSet,
  quickTop,
];
