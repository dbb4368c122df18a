import { measure, type Study, sameNumbers, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { NodeSpec } from "../document/schema.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import { lensOf } from "./camera.ts";
import { type Colour, colourFrom, noColour } from "./colour.ts";

type ColourSpec = NonNullable<NodeSpec["colour"]>;

/**
 * The colour of a node at each sample: its own, else that of what it hangs on; {@link noColour} where nobody has one.
 * @param node rig index
 */
export const colourOf = measure(
  "colour",
  (study, node: number): Int32Array => {
    const own = coloursOf(study).get(node);
    if (own !== undefined) return courseOf(study, own);
    const up = rigOf(study).parent[node];
    return up < 0 ? new Int32Array(gridOf(study).count).fill(noColour) : colourOf(study, up);
  },
  sameNumbers,
);

/** Colours of nodes that have one of their own. */
const coloursOf = shotMeasure<ReadonlyMap<number, ColourSpec>>(
  "colours",
  (study) => {
    const { indexOf } = rigOf(study);
    const found = new Map<number, ColourSpec>();
    for (const { id, colour } of headerOf(study).nodes) {
      const node = indexOf.get(id);
      if (colour !== undefined && node !== undefined && !found.has(node)) found.set(node, colour);
    }
    return found;
  },
  (a, b) => a === b || (a.size === 0 && b.size === 0),
);

/** The colour behind all that has a shape, at each sample; {@link noColour} where no camera tells. */
export const backgroundOf = shotMeasure<Int32Array>(
  "background",
  (study) => {
    const { count } = gridOf(study);
    const lens = lensOf(study);
    const colours = new Int32Array(count).fill(noColour);
    if (lens === null) return colours;
    (headerOf(study).cameras ?? []).forEach(({ background }, index) => {
      if (background === undefined) return;
      const course = courseOf(study, background);
      for (let i = 0; i < count; i++) if (lens.camera[i] === index) colours[i] = course[i];
    });
    return colours;
  },
  sameNumbers,
);

/** Whether any node or camera has a colour at all. */
export function isPainted(study: Study): boolean {
  return (
    coloursOf(study).size > 0 ||
    (headerOf(study).cameras ?? []).some(({ background }) => background !== undefined)
  );
}

/** A colour per sample: each key holds until the next, the first from the start; of several on a frame the last counts. */
function courseOf(study: Study, spec: ColourSpec): Int32Array {
  const { count, frames } = gridOf(study);
  if (typeof spec === "string") return new Int32Array(count).fill(colourFrom(spec));
  const keys = spec.map(([frame, text]) => ({ frame, colour: colourFrom(text) as Colour }));
  keys.sort((a, b) => a.frame - b.frame);
  const course = new Int32Array(count);
  let k = 0;
  for (let i = 0; i < count; i++) {
    while (k + 1 < keys.length && keys[k + 1].frame <= frames[i]) k++;
    course[i] = keys[k].colour;
  }
  return course;
}
