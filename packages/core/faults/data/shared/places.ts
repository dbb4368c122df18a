import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { gridOf } from "../../../time/grid.ts";

/** A key at which something is wrong with the keys themselves. */
export interface KeyPlace {
  readonly curve: Curve;
  readonly index: number;
  /** Where it stands, in the document's frames. */
  readonly frame: number;
}

/** Bad keys of a node that are further apart than this are told apart: a second is looked at in one go (our choice). */
const apart = 1;

/**
 * Places of a node in the order of time, in runs that each make one note: a pose that is keyed off its frame is off in
 * all of its curves, and nobody wants to read that once per curve.
 * @param places gives those of one of the node's curves, in the order of its keys
 */
export function runsOfPlaces<P extends KeyPlace>(
  study: Study,
  node: number,
  places: (name: string, curve: Curve) => readonly P[],
): readonly (readonly [P, ...P[]])[] {
  const all: P[] = [];
  for (const name of curveNamesOfNode(study, node)) {
    const curve = curveOf(study, name);
    if (curve !== null) all.push(...places(name, curve));
  }
  if (all.length === 0) return none;
  // The sort is stable: at one frame the curves keep the order of the document.
  all.sort((a, b) => a.frame - b.frame);
  const { dt, step } = gridOf(study);
  const gap = (apart * step) / dt;
  const runs: [P, ...P[]][] = [[all[0]]];
  for (let i = 1; i < all.length; i++) {
    if (all[i].frame - all[i - 1].frame > gap) runs.push([all[i]]);
    else runs[runs.length - 1].push(all[i]);
  }
  return runs;
}

const none: readonly never[] = [];

/** How many curves places are on. */
export function curvesOf(places: readonly KeyPlace[]): number {
  return new Set(places.map(({ curve }) => curve)).size;
}
