import { headerOf, type Study } from "@keyside/core";
import { lensOf, projectPoint, seenWidth } from "@keyside/core/internal";

/** A point as it is seen. */
export interface Seen {
  /** To the right. */
  readonly x: number;
  /** Upwards. */
  readonly y: number;
  /** Away from whoever looks, metres. */
  readonly depth: number;
  /** Length in the picture of one metre across the line of sight. */
  readonly scale: number;
}

/** From where something is drawn. */
export interface View {
  /** "through shotcam", "from the side", "from above". */
  readonly name: string;
  readonly kind: "camera" | "side" | "above";
  /** Half the height and half the width of what the camera sees; null where it is not a camera. */
  readonly frame: { readonly halfWidth: number; readonly halfHeight: number } | null;
  /** Where a point (metres, y up) is seen at a judged frame; null behind the camera. */
  see(point: ArrayLike<number>, at: number, sample: number): Seen | null;
}

/** Judged frames from..to, both included, as indices into the grid. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Part of a path that has to be in the picture for the camera's view to be taken. */
const inPicture = 0.6;
/** Part of a path's extent that has to show for a view to be taken; common practice: below it a path is foreshortened to nothing. */
const shows = 0.35;
/** A path is drawn from above where it wanders aside so many times more than it rises and falls. */
const muchMore = 2;

/**
 * The view that a reviewer would take of a path: through the shot's camera where the path is in the picture and
 * shows there, else from the side on which it spreads most.
 */
export function viewOf(study: Study, path: Float64Array, span: Span, aboveFrom = muchMore): View {
  const best = bestSide(path, span, aboveFrom);
  const camera = cameraView(study, span);
  return camera !== null && isSeenWell(camera, best, path, span) ? camera : best;
}

/**
 * The view through the camera that the shot is seen through, as it stands and as it is zoomed at each frame. Lengths are
 * heights of its picture.
 * @returns null where another one or none holds at some of the frames
 */
export function cameraView(study: Study, { from, to }: Span): View | null {
  const lens = lensOf(study);
  if (lens === null) return null;
  for (let i = from; i <= to; i++)
    if (lens.seen[i] === 0 || lens.camera[i] !== lens.camera[from]) return null;
  const camera = (headerOf(study).cameras ?? [])[lens.camera[from]];
  const place = new Float64Array(3);
  const seen = new Float64Array(seenWidth);
  return {
    name: `through ${camera.id}`,
    kind: "camera",
    frame: { halfWidth: lens.aspect[from] / 2, halfHeight: 0.5 },
    see(point, at, sample) {
      for (let k = 0; k < 3; k++) place[k] = point[at + k];
      projectPoint(lens, Math.min(lens.seen.length - 1, Math.max(0, sample)), place, 0, seen, 0);
      const [x, y, depth, scale] = seen;
      return Number.isNaN(x) ? null : { x, y, depth, scale };
    },
  };
}

/**
 * The side from which a path spreads most: upright, along the horizontal direction of its greatest spread, or from
 * above where it wanders over the ground more than it rises and falls. The path runs from left to right.
 * @param aboveFrom how many times more
 */
export function bestSide(path: Float64Array, span: Span, aboveFrom = muchMore): View {
  const { c, s, aside, up } = spreadOf(path, span);
  return aside > aboveFrom * up ? fromAbove(c, s) : fromTheSide(c, s);
}

/** The upright view from the side on which a path spreads most over the ground. */
export function uprightSide(path: Float64Array, span: Span): View {
  const { c, s } = spreadOf(path, span);
  return fromTheSide(c, s);
}

/**
 * The horizontal direction (c, 0, s) along which a path spreads most, the way it runs, and its spread square to that
 * on the ground and upwards (root of the sum of squares).
 */
function spreadOf(path: Float64Array, { from, to }: Span) {
  const count = to - from + 1;
  let [mx, my, mz] = [0, 0, 0];
  for (let i = from; i <= to; i++) {
    mx += path[3 * i] / count;
    my += path[3 * i + 1] / count;
    mz += path[3 * i + 2] / count;
  }
  let [xx, xz, zz, yy] = [0, 0, 0, 0];
  for (let i = from; i <= to; i++) {
    const [x, y, z] = [path[3 * i] - mx, path[3 * i + 1] - my, path[3 * i + 2] - mz];
    xx += x * x;
    xz += x * z;
    zz += z * z;
    yy += y * y;
  }
  let angle = Math.atan2(2 * xz, xx - zz) / 2;
  const [dx, dz] = [path[3 * to] - path[3 * from], path[3 * to + 2] - path[3 * from + 2]];
  if (dx * Math.cos(angle) + dz * Math.sin(angle) < 0) angle += Math.PI;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const aside = Math.max(0, xx * s * s - 2 * xz * s * c + zz * c * c);
  return { c, s, aside: Math.sqrt(aside), up: Math.sqrt(yy) };
}

/** Upright, the direction (c, 0, s) to the right. */
export function fromTheSide(c: number, s: number): View {
  return {
    name: "from the side",
    kind: "side",
    frame: null,
    see: (p, at) => ({
      x: p[at] * c + p[at + 2] * s,
      y: p[at + 1],
      depth: p[at] * s - p[at + 2] * c,
      scale: 1,
    }),
  };
}

function fromAbove(c: number, s: number): View {
  return {
    name: "from above",
    kind: "above",
    frame: null,
    see: (p, at) => ({
      x: p[at] * c + p[at + 2] * s,
      y: p[at] * s - p[at + 2] * c,
      depth: -p[at + 1],
      scale: 1,
    }),
  };
}

/** Whether a path is in the camera's picture, and shows there nearly as large as from its best side. */
function isSeenWell(camera: View, best: View, path: Float64Array, span: Span): boolean {
  const { halfWidth, halfHeight } = camera.frame ?? { halfWidth: 0, halfHeight: 0 };
  let inside = 0;
  let scale = 0;
  for (let i = span.from; i <= span.to; i++) {
    const seen = camera.see(path, 3 * i, i);
    if (seen === null) return false;
    if (Math.abs(seen.x) <= halfWidth && Math.abs(seen.y) <= halfHeight) inside++;
    scale += seen.scale / (span.to - span.from + 1);
  }
  if (inside < inPicture * (span.to - span.from + 1)) return false;
  return extentIn(camera, path, span) / scale >= shows * extentIn(best, path, span);
}

/** Diagonal of the box around a path as it is seen. */
function extentIn(view: View, path: Float64Array, { from, to }: Span): number {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = from; i <= to; i++) {
    const seen = view.see(path, 3 * i, i);
    if (seen === null) continue;
    left = Math.min(left, seen.x);
    right = Math.max(right, seen.x);
    low = Math.min(low, seen.y);
    high = Math.max(high, seen.y);
  }
  return right < left ? 0 : Math.hypot(right - left, high - low);
}
