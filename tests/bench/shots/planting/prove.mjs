// @ts-check
/**
 * Whether a fault is there: by its own measure, on poses.
 * @import { FaultKind, PlannedFault, Poses } from "../types.d.ts"
 */

/** Share of its size that a fault has to show in the shot. */
export const presentFrom = 0.75;
/** Share of the barely seen size that the twin may show at the same place. */
export const twinUpTo = 0.5;

/** @param {PlannedFault} fault */
export const sizeOf = ({ kind, strength }) => kind.sizes[strength].value;

/**
 * The measure over which a fault counts as present at all: what a barely seen one has to show to be planted.
 * @param {FaultKind} kind
 */
export const presenceLimit = (kind) => presentFrom * kind.sizes[0].value;

/** @param {PlannedFault} fault @param {Poses} poses @param {Poses} twin */
export const measured = ({ kind, place }, poses, twin) => kind.measure(poses, place, twin);

/** @param {PlannedFault} fault @param {Poses} poses @param {Poses} twin */
export function isPresent(fault, poses, twin) {
  return measured(fault, poses, twin) >= presentFrom * sizeOf(fault);
}

/** @param {PlannedFault} fault @param {Poses} twin */
export function isCleanIn(fault, twin) {
  return measured(fault, twin, twin) <= twinUpTo * fault.kind.sizes[0].value;
}
