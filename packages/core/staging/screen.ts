import { floats } from "../base/room.ts";
import { changedSamples, type Study, sampledMeasure } from "../base/study.ts";
import { worldOf } from "../rig/pose.ts";
import { type Lens, lensOf } from "./camera.ts";

/** Numbers per sample of what is seen of a point. */
export const seenWidth = 4;

/**
 * Where a node is seen: 4 numbers per sample. To the right and upwards of the picture's middle, in picture heights; its
 * depth along the line of sight, metres; and how many picture heights a metre across the line of sight is there. All
 * four are NaN where no camera holds, and all but the depth where the point is nearer than the camera sees, or farther.
 * @param node rig index of the node
 * @returns null where no frame has a camera
 */
export const screenOf = sampledMeasure(
  "screen",
  (study, node: number): Float64Array | null => {
    const lens = lensOf(study);
    if (lens === null) return null;
    const { position } = worldOf(study, node);
    const out = floats((seenWidth * position.length) / 3);
    project(lens, position, out);
    return out;
  },
  (a, b) => changedSamples(a, b, seenWidth),
);

/**
 * Projects a point's path.
 * @param path 3 numbers per sample, metres
 * @param out 4 numbers per sample, as {@link screenOf} has them
 */
export function project(lens: Lens, path: Float64Array, out: Float64Array): void {
  const count = lens.seen.length;
  for (let i = 0; i < count; i++) projectPoint(lens, i, path, 3 * i, out, seenWidth * i);
}

/** Projects one point at one sample; `at` and `to` are offsets into the arrays. */
export function projectPoint(
  lens: Lens,
  sample: number,
  point: Float64Array,
  at: number,
  out: Float64Array,
  to: number,
): void {
  if (lens.seen[sample] === 0) {
    out.fill(Number.NaN, to, to + seenWidth);
    return;
  }
  const { eye, turn } = lens;
  const dx = point[at] - eye[3 * sample];
  const dy = point[at + 1] - eye[3 * sample + 1];
  const dz = point[at + 2] - eye[3 * sample + 2];
  // Turned back by the camera's turn.
  const x = -turn[4 * sample];
  const y = -turn[4 * sample + 1];
  const z = -turn[4 * sample + 2];
  const w = turn[4 * sample + 3];
  const tx = 2 * (y * dz - z * dy);
  const ty = 2 * (z * dx - x * dz);
  const tz = 2 * (x * dy - y * dx);
  const depth = -(dz + w * tz + x * ty - y * tx);
  out[to + 2] = depth;
  if (!(depth >= lens.near[sample] && depth <= lens.far[sample] && (depth > 0 || lens.flat[sample] === 1))) {
    out[to] = out[to + 1] = out[to + 3] = Number.NaN;
    return;
  }
  const scale = 0.5 / (lens.half[sample] * (lens.flat[sample] === 1 ? 1 : depth));
  out[to] = scale * (dx + w * tx + y * tz - z * ty);
  out[to + 1] = scale * (dy + w * ty + z * tx - x * tz);
  out[to + 3] = scale;
}

/**
 * Whether a disc about a point of {@link screenOf} reaches into the picture.
 * @param radius metres
 */
export function isInPicture(
  lens: Lens,
  sample: number,
  seen: Float64Array,
  at: number,
  radius: number,
): boolean {
  const x = seen[at];
  if (Number.isNaN(x)) return false;
  const reach = radius * seen[at + 3];
  return Math.abs(x) - reach <= lens.aspect[sample] / 2 && Math.abs(seen[at + 1]) - reach <= 0.5;
}

/** The lens and what is seen of a node, where the shot has a camera. */
export function lensAndScreen(
  study: Study,
  node: number,
): { readonly lens: Lens; readonly seen: Float64Array } | null {
  const lens = lensOf(study);
  const seen = screenOf(study, node);
  return lens === null || seen === null ? null : { lens, seen };
}
