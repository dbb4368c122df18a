import { conjugateInto, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { figureOfNode, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { contactsOf } from "./contact.ts";
import { heightAt } from "./surface.ts";

/**
 * A foot lies flat while its joint is within this many body heights (about 7 mm) of its lowest in a plant (our choice).
 */
const flatShare = 0.004;

/**
 * Where the sole lies under a joint of a foot, in the joint's axes, metres: the mean, while the foot lies flat, of the way
 * from the joint straight down to the surface. Nodes that are never planted have none: 0.
 */
export const soleOffsetOf = measure(
  "sole offset",
  (study, node: number): Float64Array => meanWhileFlat(study, node, (height) => -height),
  sameNumbers,
);

/**
 * What is up for a joint of a foot while it lies flat, in the joint's axes: the mean of the surface's normals. It is told of
 * a foot that is sunk, and of one without a sole under its joint, as well. Nodes that are never planted have none: 0.
 */
export const soleUpOf = measure(
  "sole up",
  (study, node: number): Float64Array => meanWhileFlat(study, node, () => 1),
  sameNumbers,
);

/** The mean, in a joint's axes, of a way along the normal of what it stands on, while its foot lies flat. */
function meanWhileFlat(study: Study, node: number, along: (height: number) => number): Float64Array {
  const { position, orientation } = worldOf(study, node);
  const figure = figureOfNode(study, node);
  const local = new Float64Array(3);
  const way = new Float64Array(3);
  const inverse = new Float64Array(4);
  let count = 0;
  for (const { node: own, from, to, surface } of figure < 0 ? [] : contactsOf(study, figure)) {
    if (own !== node) continue;
    let lowest = Number.POSITIVE_INFINITY;
    for (let i = from; i <= to; i++) lowest = Math.min(lowest, heightAt(surface, position, i));
    const flat = lowest + flatShare * statureOf(study, figure);
    for (let i = from; i <= to; i++) {
      const height = heightAt(surface, position, i);
      if (height > flat) continue;
      for (let k = 0; k < 3; k++) way[k] = along(height) * surface.normal[k];
      conjugateInto(orientation, 4 * i, inverse, 0);
      rotateVector(inverse, 0, way, 0, way, 0);
      for (let k = 0; k < 3; k++) local[k] += way[k];
      count++;
    }
  }
  if (count > 0) for (let k = 0; k < 3; k++) local[k] /= count;
  return local;
}

/**
 * Path of the sole under a joint of a foot, metres, 3 numbers per sample: the point that stands on the surface while
 * the foot lies flat, carried along by the joint. A foot that rolls moves its joints and not this point, so that a
 * roll can be told from a slide. Nodes that are never planted give their own path.
 */
export const solePathOf = measure("sole path", (study, node: number): Float64Array => {
  const { position, orientation } = worldOf(study, node);
  const local = soleOffsetOf(study, node);
  if (local[0] === 0 && local[1] === 0 && local[2] === 0) return position;
  const path = floats(position.length);
  for (let i = 0; i < path.length / 3; i++) {
    rotateVector(orientation, 4 * i, local, 0, path, 3 * i);
    for (let k = 3 * i; k < 3 * i + 3; k++) path[k] += position[k];
  }
  return path;
});
