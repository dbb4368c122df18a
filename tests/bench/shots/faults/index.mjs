// @ts-check
/**
 * All faults of the whole-shot bench.
 * @import { FaultKind } from "../types.d.ts"
 */
import { causeFaults } from "./causes.mjs";
import { dataFaults } from "./data.mjs";
import { feetFaults } from "./feet.mjs";
import { partsFaults } from "./parts.mjs";
import { pathFaults } from "./paths.mjs";
import { propFaults } from "./props.mjs";
import { spacingFaults } from "./spacing.mjs";
import { stagingFaults } from "./staging.mjs";
import { weightFaults } from "./weight.mjs";

/** @type {readonly FaultKind[]} */
export const faultKinds = [
  ...spacingFaults,
  ...pathFaults,
  ...dataFaults,
  ...weightFaults,
  ...feetFaults,
  ...partsFaults,
  ...causeFaults,
  ...stagingFaults,
  ...propFaults,
];
