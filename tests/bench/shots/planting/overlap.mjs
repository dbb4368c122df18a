// @ts-check
/**
 * What faults share: frames, figures, limbs.
 * @import { Body, Figure, Place } from "../types.d.ts"
 */

/** @param {{ from: number, to: number }} a @param {{ from: number, to: number }} b */
export const shareFrames = (a, b) => a.from <= b.to && b.from <= a.to;

/** @param {Place} a @param {Place} b whether two faults are seen in the same frames of the same figure */
export const overlaps = (a, b) => a.figure === b.figure && shareFrames(a, b);

/**
 * The limb of a joint, by its index; -1 for trunk, head and root.
 * @param {Body} body @param {string} joint
 */
export function limbOf(body, joint) {
  return body.limbs.findIndex(
    ({ joints, fingers }) =>
      joints.includes(joint) || (fingers ?? []).some((finger) => finger.includes(joint)),
  );
}

/**
 * Whether two overlapping faults are on the same limb, or both on the trunk.
 * @param {readonly Figure[]} figures @param {Place} a @param {Place} b
 */
export function shareLimb(figures, a, b) {
  if (!overlaps(a, b)) return false;
  const body = figures.find(({ id }) => id === a.figure)?.body;
  return body !== undefined && limbOf(body, a.joint) === limbOf(body, b.joint);
}

/**
 * Whether a note on one fault may stand where one on the other would: on the same joint, on joints that hang on each other,
 * or on a limb that one of them moves as a whole.
 * @param {readonly Figure[]} figures @param {Place} a @param {Place} b
 */
export function areBeside(figures, a, b) {
  const moved = (/** @type {Place} */ { joint, ...rest }) => {
    const { joints } = /** @type {{ joints?: readonly string[] }} */ (rest);
    return [joint, ...(joints ?? [])];
  };
  if (moved(a).some((joint) => moved(b).includes(joint))) return true;
  return figures.some(({ body }) =>
    body.joints.some(
      ({ id, parent }) => (id === a.joint && parent === b.joint) || (id === b.joint && parent === a.joint),
    ),
  );
}
