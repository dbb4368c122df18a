// @ts-check
/**
 * Whether a fault is there: by its own measure, on poses.
 * @import { FaultKind, PlannedFault, Poses } from "../types.d.ts"
 */

/** Share of its size that a fault has to show in the shot. */
export const presentFrom = 0.75;
/** Share of the barely seen size that the twin may show at the same place. */
export const twinUpTo = 0.5;

/** Share of what a fault has to show in the shot that must go when it alone is taken out: the greater part of it. */
export const ownFrom = 0.5;

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

/**
 * Whether what a fault shows is its own: most of what it has to show goes with it. A measure that stays comes from another
 * fault at the place.
 * @param {PlannedFault} fault @param {Poses} poses @param {Poses} without poses of the shot with all the other faults
 * @param {Poses} twin
 */
export function isOwn(fault, poses, without, twin) {
  const goes = measured(fault, poses, twin) - measured(fault, without, twin);
  return goes >= ownFrom * presentFrom * sizeOf(fault);
}
