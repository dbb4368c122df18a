// @ts-check
/** Faults of props: what goes through what. */
import { propThroughBody } from "./props-through.mjs";

/** @type {readonly import("../types.d.ts").FaultKind[]} */
export const propFaults = [propThroughBody];
