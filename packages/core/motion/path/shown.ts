import { floats, integers } from "../../base/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../../base/study.ts";
import { gridOf } from "../../time/grid.ts";
import { heldOf, isChainStepped } from "./held.ts";

/**
 * Grid indices at which a node shows a new pose: all but those that step keys hold. Checks of spacing look at these
 * alone, so that motion on twos is judged pose by pose and a held frame is never taken for a stop.
 */
export function shownOf(study: Study, node: number): Int32Array {
  return isChainStepped(study, node) ? unheldOf(study, node) : allSamplesOf(study);
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

/** The shown samples of a series (3 numbers each), side by side; the series itself where all are shown. */
export function gathered(series: Float64Array, shown: Int32Array): Float64Array {
  if (shown.length * 3 === series.length) return series;
  const out = floats(3 * shown.length);
  for (let i = 0; i < shown.length; i++) {
    const k = 3 * shown[i];
    out[3 * i] = series[k];
    out[3 * i + 1] = series[k + 1];
    out[3 * i + 2] = series[k + 2];
  }
  return out;
}
