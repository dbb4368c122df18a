// @ts-check
/** Faults of weight: falls, pushes, flights, wings, balance, loads. */
import { offBalance } from "./weight-balance.mjs";
import { beatMismatch, sinkingUnderBeats } from "./weight-beats.mjs";
import { earlyStop, hangTime, liftBeforePush } from "./weight-falls.mjs";
import { slippingProp, weightlessLoad } from "./weight-loads.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const weightFaults = [
  earlyStop,
  liftBeforePush,
  hangTime,
  beatMismatch,
  sinkingUnderBeats,
  offBalance,
  weightlessLoad,
  slippingProp,
];
