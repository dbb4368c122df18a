import {
  allKeys,
  type Curve,
  cubicSlope,
  type Handles,
  type Interpolation,
  interpolations,
  type KeyHandle,
  readHandles,
} from "@keyside/core/curves";

/** Which handle of a key: that before it or that behind it. */
export type Side = "in" | "out";

/** Where a handle stands, and whether the document names it; one that it does not name follows from the keys. */
export interface HandlePlace {
  frame: number;
  value: number;
  isOwn: boolean;
}

const inner: Handles = { x1: 0, y1: 0, x2: 0, y2: 0 };

/** How the segment that starts at a key runs. */
export function modeOf(curve: Curve, key: number): Interpolation {
  return interpolations[curve.modes[key]];
}

/** The segment beside a key to which a handle belongs: its first and last key; null where there is none. */
export function segmentOf(curve: Curve, key: number, side: Side): readonly [number, number] | null {
  const first = side === "in" ? key - 1 : key;
  return first < 0 || first + 1 >= curve.frames.length ? null : [first, first + 1];
}

/**
 * Puts into `into` where a handle of a key stands. On a bezier segment it is the curve's control point, as it is used;
 * on a cubic one it stands a third of the segment away, on the slope.
 * @returns whether there is one: on bezier and cubic segments of curves of one number
 */
export function placeOfHandle(curve: Curve, key: number, side: Side, into: HandlePlace): boolean {
  const segment = segmentOf(curve, key, side);
  if (segment === null || curve.width !== 1) return false;
  const [first, last] = segment;
  const mode = modeOf(curve, first);
  if (mode !== "bezier" && mode !== "cubic") return false;
  const begin = curve.frames[first];
  const span = curve.frames[last] - begin;
  if (!(span > 0)) return false;
  const own = curve.handles === null ? Number.NaN : curve.handles[4 * key + (side === "in" ? 1 : 3)];
  into.isOwn = !Number.isNaN(own);
  if (mode === "bezier") {
    readHandles(allKeys(curve), first, last, inner);
    into.frame = begin + span * (side === "in" ? inner.x2 : inner.x1);
    into.value = side === "in" ? inner.y2 : inner.y1;
    return true;
  }
  const run = (side === "in" ? -span : span) / 3;
  into.frame = curve.frames[key] + run;
  into.value = curve.values[key] + run * cubicSlope(allKeys(curve), key, side === "in" ? 0 : 2);
  return true;
}

/** Handles that are drawn at shorter distances than this share of a frame stand upright. */
const shortest = 1e-3;

/**
 * What a handle is to be in the document so that it stands where it was pulled to. It cannot be pulled across its key,
 * nor past the key at the other end of its segment.
 * @returns null where there is no such handle
 */
export function pulledHandle(
  curve: Curve,
  key: number,
  side: Side,
  frame: number,
  value: number,
): KeyHandle | null {
  const segment = segmentOf(curve, key, side);
  if (segment === null) return null;
  const span = curve.frames[segment[1]] - curve.frames[segment[0]];
  const sign = side === "in" ? -1 : 1;
  const run = sign * Math.min(span, Math.max(0, sign * (frame - curve.frames[key])));
  const rise = value - curve.values[key];
  if (modeOf(curve, segment[0]) === "bezier") return [tidy(run), tidy(rise)];
  // On a cubic segment a handle is a slope, and how long it was drawn does not matter.
  return tidy(rise / (Math.abs(run) < shortest ? sign * shortest : run));
}

/** A number without digits that nobody meant: about a millionth of its size. */
export function tidy(value: number): number {
  if (value === 0) return 0;
  const digits = Math.max(0, 6 - Math.ceil(Math.log10(Math.abs(value))));
  const power = 10 ** Math.min(12, digits);
  return Math.round(value * power) / power + 0;
}
