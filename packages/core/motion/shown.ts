import { integers } from "../study/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../study/study.ts";
import { gridOf } from "./grid.ts";
import { heldOf, neverHeldOf } from "./held.ts";

/**
 * Grid indices at which a node shows a new pose: all but those that step keys hold. Checks of spacing look at these
 * alone, so that motion on twos is judged pose by pose and a held frame is never taken for a stop.
 */
export function shownOf(study: Study, node: number): Int32Array {
  return heldOf(study, node) === neverHeldOf(study) ? allSamplesOf(study) : unheldOf(study, node);
}

/** All grid indices: what a node shows that is never held. */
export const allSamplesOf = shotMeasure(
  "all samples",
  (study) => {
    const samples = integers(gridOf(study).count);
    for (let i = 0; i < samples.length; i++) samples[i] = i;
    return samples;
  },
  sameNumbers,
);

const unheldOf = measure<number, Int32Array>("shown", (study, node) => {
  const { count } = gridOf(study);
  const held = heldOf(study, node);
  const shown = integers(count);
  let length = 0;
  for (let i = 0; i < count; i++) if (held[i] === 0) shown[length++] = i;
  return shown.subarray(0, length);
});
