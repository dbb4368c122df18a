// @ts-check
/**
 * Faults of data: of turns as they are keyed, of handles, of keys.
 * @import { FaultKind } from "../types.d.ts"
 */
import { handleFaults } from "./data-handles.mjs";
import { keyFaults } from "./data-keys.mjs";
import { turnFaults } from "./data-turns.mjs";

/** @type {FaultKind[]} */
export const dataFaults = [...turnFaults, ...handleFaults, ...keyFaults];
