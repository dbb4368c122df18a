/** A foot that blocking poses anew on its spot stays within this, body heights (5 cm of a grown person; our choice). */
const spot = 0.03;

/**
 * Whether step keys hold a foot for one pose alone at a sample: it may hang on its way there. A pose with which the shot
 * begins or ends goes on beyond it.
 * @param path of the foot, 3 numbers per sample, metres
 * @param cuts samples with which a pose begins, in order
 * @param stature of its figure, metres
 */
export function isOnePose(path: Float64Array, cuts: Int32Array, sample: number, stature: number): boolean {
  let next = 0;
  while (next < cuts.length && cuts[next] <= sample) next++;
  const near = spot * stature;
  return next > 0 && next < cuts.length && jumps(path, cuts[next - 1], near) && jumps(path, cuts[next], near);
}

/** Whether a point is elsewhere from a sample on than right before it. */
function jumps(path: Float64Array, at: number, near: number): boolean {
  const [a, b] = [3 * at - 3, 3 * at];
  return Math.hypot(path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]) > near;
}
