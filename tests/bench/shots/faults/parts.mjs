// @ts-check
/** Faults of parts against each other. */
import { noDrag, stillFingers, stillWrist } from "./parts-chains.mjs";
import { competingMoves, twinning } from "./parts-pairs.mjs";
import { blockMove, loneJoint, raisedShoulders } from "./parts-trunk.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const partsFaults = [
  twinning,
  blockMove,
  loneJoint,
  noDrag,
  stillWrist,
  stillFingers,
  competingMoves,
  raisedShoulders,
];
