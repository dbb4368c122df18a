import { inRadians } from "../base/constants.ts";
import { bytes, floats } from "../base/room.ts";
import { type Study, sameNumbers, shotMeasure } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { headerOf } from "../document/inputs.ts";
import type { CameraSpec } from "../document/schema.ts";
import { readZoom } from "../document/zoom.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import { metresPerUnitOf } from "../rig/stature.ts";
import { gridOf } from "../time/grid.ts";

/**
 * What each judged frame is seen through: one entry per sample, or several, of the camera that holds there. Without
 * a camera an entry's `seen` is 0 and its numbers mean nothing.
 */
export interface Lens {
  /** 1 where a camera holds. */
  readonly seen: Uint8Array;
  /** Which of the document's cameras it is. */
  readonly camera: Int16Array;
  /** 1 where it is an orthographic one. */
  readonly flat: Uint8Array;
  /** 3 numbers per sample: where it stands, metres, y up. */
  readonly eye: Float64Array;
  /** 4 numbers per sample: its turn in the world, [x, y, z, w]. It looks along its own −z, +y up. */
  readonly turn: Float64Array;
  /**
   * Half of the picture's height: of a perspective camera at a depth of one metre (the tangent of half its field of view),
   * of an orthographic one at any depth; metres.
   */
  readonly half: Float64Array;
  /** Width of the picture over its height. */
  readonly aspect: Float64Array;
  /** Nearest and farthest depth that is seen, metres. */
  readonly near: Float64Array;
  readonly far: Float64Array;
}

/** Width over height of a picture whose camera does not tell; common practice: 16 : 9. */
export const usualAspect = 16 / 9;
/** Metres before which a camera that does not tell sees nothing; no lens is focused there (our choice). */
const usualNear = 0.01;

/**
 * The camera of each judged frame: of those whose frames hold it, the first; as it stands and as it is zoomed there.
 * @returns null where no frame has a camera
 */
export const lensOf = shotMeasure<Lens | null>(
  "lens",
  (study) => {
    const cameras = usableCameras(study);
    if (cameras.length === 0) return null;
    const { count } = gridOf(study);
    const lens: Lens = {
      seen: bytes(count),
      camera: new Int16Array(count),
      flat: bytes(count),
      eye: floats(3 * count),
      turn: floats(4 * count),
      half: floats(count),
      aspect: floats(count),
      near: floats(count),
      far: floats(count),
    };
    for (const camera of cameras) fill(study, camera, (headerOf(study).cameras ?? []).indexOf(camera), lens);
    return lens.seen.includes(1) ? lens : null;
  },
  (a, b) => (a === null || b === null ? a === b : sameLens(a, b)),
);

/** Cameras whose node the document has and that say what they see. */
function usableCameras(study: Study): CameraSpec[] {
  const { indexOf } = rigOf(study);
  return (headerOf(study).cameras ?? []).filter(
    ({ node, verticalFieldOfView, verticalExtent, zoom }) =>
      indexOf.has(node) &&
      (verticalFieldOfView !== undefined || verticalExtent !== undefined || zoom !== undefined),
  );
}

/** Puts a camera at the samples that it holds and no camera before it does. */
function fill(study: Study, camera: CameraSpec, index: number, lens: Lens): void {
  const { count, frames } = gridOf(study);
  const { position, orientation } = worldOf(study, rigOf(study).indexOf.get(camera.node) as number);
  const isFlat = camera.verticalFieldOfView === undefined && camera.verticalExtent !== undefined;
  const metres = metresPerUnitOf(study);
  const [first, last] = camera.frames ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const sizes = floats(count).fill(camera.verticalFieldOfView ?? camera.verticalExtent ?? Number.NaN);
  const { keys } = readZoom(camera);
  if (keys !== null) sampleCurve(keys, frames, sizes);
  const aspect = camera.aspect ?? usualAspect;
  const near = camera.near === undefined ? (isFlat ? 0 : usualNear) : camera.near * metres;
  const far = camera.far === undefined ? Number.POSITIVE_INFINITY : camera.far * metres;
  for (let i = 0; i < count; i++) {
    if (lens.seen[i] === 1 || frames[i] < first || frames[i] > last) continue;
    const half = isFlat ? (sizes[i] * metres) / 2 : Math.tan(inRadians(sizes[i]) / 2);
    // A handle can lead a zoom to where there is no picture.
    if (!(half > 0 && (isFlat || sizes[i] < 180))) continue;
    lens.seen[i] = 1;
    lens.camera[i] = index;
    lens.flat[i] = isFlat ? 1 : 0;
    for (let k = 0; k < 3; k++) lens.eye[3 * i + k] = position[3 * i + k];
    for (let k = 0; k < 4; k++) lens.turn[4 * i + k] = orientation[4 * i + k];
    lens.half[i] = half;
    lens.aspect[i] = aspect;
    lens.near[i] = near;
    lens.far[i] = far;
  }
}

function sameLens(a: Lens, b: Lens): boolean {
  const names = ["seen", "camera", "flat", "eye", "turn", "half", "aspect", "near", "far"] as const;
  return names.every((name) => sameNumbers(a[name], b[name]));
}
