import { floats, integers } from "../../base/room.ts";
import { lengthOf } from "../../base/vector.ts";
import type { Span } from "../../time/span.ts";
/** When a point counts as planted; heights in metres, speeds in metres per second, lengths in samples. */
export interface PlantLimits {
  /** Farthest below its standing level that a point may be and still stand on the surface (it cuts through). */
  readonly deepest: number;
  /** A plant lasts while the point is lower and slower than this … */
  readonly leaveHeight: number;
  readonly leaveSpeed: number;
  /** … and counts if the point is lower and slower than this somewhere in it … */
  readonly enterHeight: number;
  readonly enterSpeed: number;
  /** … or comes to a stand, slower than this, a little higher: a plant that hovers. */
  readonly stillSpeed: number;
  /** Shortest plant. */
  readonly shortest: number;
  /** Interruptions of up to this many samples do not end a plant. */
  readonly longestGap: number;
}

/**
 * Stretches in which a point is planted, with hysteresis: a stretch under the leaving limits that meets the entering
 * limits somewhere.
 * @param height height over the level at which the point stands when planted, one number per sample
 * @param speed speed of the point, one number per sample
 */
export function plantsIn(height: Float64Array, speed: Float64Array, limits: PlantLimits): Span[] {
  const count = height.length;
  const plants: { from: number; to: number; entered: boolean }[] = [];
  for (let i = 0; i < count; i++) {
    const h = height[i];
    if (!(h < limits.leaveHeight && h > -limits.deepest && speed[i] < limits.leaveSpeed)) continue;
    const entered = (h < limits.enterHeight && speed[i] < limits.enterSpeed) || speed[i] < limits.stillSpeed;
    const plant = plants[plants.length - 1];
    if (plant !== undefined && i - plant.to <= limits.longestGap + 1) {
      plant.to = i;
      plant.entered ||= entered;
    } else plants.push({ from: i, to: i, entered });
  }
  const shortest = Math.min(limits.shortest, count);
  return plants
    .filter((plant) => plant.entered && plant.to - plant.from + 1 >= shortest)
    .map(({ from, to }) => ({ from, to }));
}

/**
 * Speed at each sample as the smaller of the mean speeds over `window` samples before and after it: a point that comes
 * to a stand, or leaves, within one sample counts as standing on the samples at which it stands.
 * @param path 3 numbers per sample
 * @param dt seconds from one sample to the next
 */
export function standingSpeeds(path: Float64Array, window: number, dt: number): Float64Array {
  const count = path.length / 3;
  const ahead = floats(count);
  for (let i = 0; i + 1 < count; i++) {
    const k = Math.min(i + window, count - 1);
    const x = path[3 * k] - path[3 * i];
    const y = path[3 * k + 1] - path[3 * i + 1];
    const z = path[3 * k + 2] - path[3 * i + 2];
    ahead[i] = lengthOf(x, y, z) / ((k - i) * dt);
  }
  const speeds = floats(count);
  for (let i = 0; i < count && count > 1; i++) {
    const after = i + 1 < count ? ahead[i] : Number.POSITIVE_INFINITY;
    const before = i > 0 ? ahead[Math.max(0, i - window)] : Number.POSITIVE_INFINITY;
    speeds[i] = Math.min(after, before);
  }
  return speeds;
}

/**
 * The level at which a point stands: the lowest cluster of its heights at slow samples. Null where it is never slow.
 * @param slow metres per second
 * @param width how far heights of one level may lie apart, metres
 */
export function standingLevel(
  height: Float64Array,
  speed: Float64Array,
  slow: number,
  width: number,
): number | null {
  const sorted = height.filter((_, i) => speed[i] < slow).sort();
  return sorted.length === 0 ? null : lowestCluster(sorted, width);
}

/**
 * A cluster counts from this share of the fullest one on, so that a few stray low samples pull no level down (our
 * choice).
 */
const clusterShare = 0.2;

/** Median of the lowest cluster of sorted numbers, a cluster being a window of `width`; NaN of none. */
export function lowestCluster(sorted: Float64Array, width: number): number {
  return lowestWindow(sorted, width, clusterShare, width);
}

/** A level of points that are built alike counts from this share of their fullest one on (our choice). */
const levelFill = 0.4;

/**
 * Median of the lowest window of `width` that holds enough of some sorted numbers, of points that are built alike; it
 * moves on while it fills up. One of them that dips for a moment makes no level.
 */
export function usualLevel(sorted: Float64Array, width: number): number {
  return lowestWindow(sorted, width, levelFill, width / 2);
}

/**
 * Median of the lowest window of `width` that holds a share of what the fullest one holds. It moves on by up to `reach`
 * while it fills up: the cluster's own samples count, not its lower edge. NaN of no numbers.
 */
function lowestWindow(sorted: Float64Array, width: number, share: number, reach: number): number {
  const sizes = integers(sorted.length);
  let fullest = 0;
  for (let first = 0, end = 0; first < sorted.length; first++) {
    while (end < sorted.length && sorted[end] - sorted[first] <= width) end++;
    sizes[first] = end - first;
    fullest = Math.max(fullest, sizes[first]);
  }
  const lowest = sizes.findIndex((size) => size >= share * fullest);
  if (lowest < 0) return Number.NaN;
  let best = lowest;
  for (let k = lowest; k < sorted.length && sorted[k] - sorted[lowest] <= reach; k++) {
    if (sizes[k] > sizes[best]) best = k;
  }
  return sorted[best + ((sizes[best] - 1) >> 1)];
}

/**
 * Whether some sorted numbers lie at zero: within `exact` of it as many as make a cluster (see {@link lowestCluster}), or
 * within half of `width` of it most of those that lie as near to each other.
 */
export function standsAtZero(sorted: Float64Array, width: number, exact: number): boolean {
  let fullest = 0;
  let near = 0;
  let exactly = 0;
  for (let first = 0, end = 0; first < sorted.length; first++) {
    while (end < sorted.length && sorted[end] - sorted[first] <= width) end++;
    fullest = Math.max(fullest, end - first);
    const off = Math.abs(sorted[first]);
    if (off <= width / 2) near++;
    if (off <= exact) exactly++;
  }
  return near > 0 && (2 * near > fullest || exactly >= clusterShare * fullest);
}
