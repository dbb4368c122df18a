import { shotMeasure } from "../base/study.ts";
import { carrierOf, figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { type Solid, solidsOf } from "./solids.ts";

/** What is one thing to the eye: a figure with all that hangs on it, or another object. */
export interface Thing {
  /** Index of the figure; −1 for another object. */
  readonly figure: number;
  /** Rig index of what carries it. */
  readonly node: number;
  /** Its solids, as indices into `solidsOf`. */
  readonly solids: readonly number[];
}

/** All things that have a shape, in the order of their first solid. */
export const thingsOf = shotMeasure<readonly Thing[]>("things", (study) => {
  const { parent } = rigOf(study);
  const things = new Map<string, { figure: number; node: number; solids: number[] }>();
  solidsOf(study).forEach((solid: Solid, index) => {
    let top = solid.node;
    while (parent[top] >= 0) top = parent[top];
    const name = solid.figure >= 0 ? `figure ${solid.figure}` : `node ${top}`;
    const thing = things.get(name) ?? {
      figure: solid.figure,
      node: solid.figure >= 0 ? carrierOf(figuresOf(study)[solid.figure]) : top,
      solids: [],
    };
    thing.solids.push(index);
    things.set(name, thing);
  });
  return [...things.values()];
});
