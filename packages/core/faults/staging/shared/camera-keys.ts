import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { firstKeyFrom } from "../../../curve/keys.ts";
import { headerOf } from "../../../document/inputs.ts";
import { rigOf } from "../../../rig/rig.ts";
import { lensOf } from "../../../staging/camera.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault } from "../../check.ts";
import { toleranceOf } from "../../shared/keying/precision.ts";
import { tracksOf } from "../../shared/keying/track.ts";

type FaultKeys = Extract<Fault, { kind: "keys" }>["keys"];

/** Frames (at 24 per second) beside a stretch in which a camera comes to what is seen in it: those of a slow blend. */
const beside = 12;

/** Rig index of the camera through which a sample is seen; −1 for none. */
export function cameraAt(study: Study, sample: number): number {
  const spec = headerOf(study).cameras?.[lensOf(study)?.camera[sample] ?? 0];
  return spec === undefined ? -1 : (rigOf(study).indexOf.get(spec.node) ?? -1);
}

/**
 * Keys of a camera that moves in a stretch or beside it: of each channel that changes there, the first in the stretch.
 * @param from first and last sample
 * @returns none of a camera that stands
 */
export function cameraKeys(study: Study, camera: number, from: number, to: number): FaultKeys {
  const { frames, rate, step } = gridOf(study);
  const wide = Math.round((beside * rate) / referenceRate);
  const value = new Float64Array(4);
  return tracksOf(study, camera).flatMap((track) => {
    const { curve, id, channel } = track;
    if (curve === null || curve.width !== 1) return [];
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = -wide; i <= to - from + wide; i++) {
      track.read(frames[from] + i * step, value);
      low = Math.min(low, value[0]);
      high = Math.max(high, value[0]);
    }
    if (high - low <= toleranceOf(study, camera, channel)) return [];
    const key = firstKeyFrom(curve.frames, frames[from] - 0.5);
    const isWithin = key < curve.frames.length && curve.frames[key] <= frames[to] + 0.5;
    return [{ node: id, channel, index: isWithin ? key : Math.max(0, key - 1) }];
  });
}
