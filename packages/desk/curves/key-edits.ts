import {
  allKeys,
  type Curve,
  cubicSlope,
  type Handles,
  type Interpolation,
  interpolations,
  type KeyEdit,
  readHandles,
  sampleCurve,
  solveTime,
  valueAt,
} from "@keyside/core/curves";
import { hasHandle } from "./drag.ts";
import { modeOf, placeOfHandle, tidy } from "./handles.ts";
import { firstFrom, keyAt } from "./picked.ts";

/** Takes keys out. */
export function removals(keys: readonly { readonly curve: Curve; readonly key: number }[]): KeyEdit[] {
  return keys.map(({ curve: { node, channel, frames }, key }) => {
    return { kind: "remove", node, channel, frame: frames[key] };
  });
}

/** The value of a key as an edit takes it. */
export function keyValue(curve: Curve, key: number): number | readonly [number, number, number, number] {
  if (curve.width === 1) return curve.values[key];
  const [x, y, z, w] = curve.values.subarray(4 * key, 4 * key + 4);
  return [x, y, z, w];
}

/** Lets segments that start at keys run in this way. */
export function runAs(
  keys: readonly { readonly curve: Curve; readonly key: number }[],
  interpolation: Interpolation,
): KeyEdit[] {
  return keys
    .filter(({ curve, key }) => modeOf(curve, key) !== interpolation)
    .map(({ curve, key }) => {
      const { node, channel, frames } = curve;
      return { kind: "set", node, channel, frame: frames[key], value: keyValue(curve, key), interpolation };
    });
}

/**
 * Gives a key handles that can be pulled, where it has none: the segments beside it become bezier. A smooth segment
 * keeps its shape, as its handles follow from the keys.
 */
export function withHandles(curve: Curve, key: number): KeyEdit[] {
  if (curve.width !== 1) return [];
  const segments = [
    { key: key - 1, lacks: key > 0 && !hasHandle(curve, curve.frames[key], "in") },
    { key, lacks: key + 1 < curve.frames.length && !hasHandle(curve, curve.frames[key], "out") },
  ];
  return runAs(
    segments.filter(({ lacks }) => lacks).map((segment) => ({ curve, key: segment.key })),
    "bezier",
  );
}

const inner: Handles = { x1: 0, y1: 0, x2: 0, y2: 0 };
const place = { frame: 0, value: 0, isOwn: false };

/**
 * Adds a key on the curve, at a frame where there is none. Step, linear, bezier and cubic segments keep their shape; the
 * slopes of smooth ones follow from their keys, of which there is one more now.
 * @returns no edits where there is a key
 */
export function addition(curve: Curve, frame: number): KeyEdit[] {
  const { node, channel, frames } = curve;
  if (keyAt(curve, frame) >= 0 || frames.length === 0) return [];
  const next = firstFrom(frames, frame);
  const before = next - 1;
  // Beyond the first and the last key a curve holds.
  const edge = Math.max(0, before);
  const mode = modeOf(curve, edge);
  const own = mode === curve.interpolation ? {} : { interpolation: mode };
  const added = { kind: "set", node, channel, frame, value: valueOn(curve, frame), ...own } as const;
  if (curve.width !== 1) return [added];
  if (before < 0 || next >= frames.length) {
    const side = before < 0 ? "in" : "out";
    const isHandled = curve.handles !== null && !Number.isNaN(curve.handles[4 * edge + (before < 0 ? 1 : 3)]);
    // A handle into what was held until now would bend it.
    return isHandled ? [added, { ...kept(curve, edge), handles: { [side]: null } }] : [added];
  }
  if (mode === "bezier") return divided(curve, before, frame, added);
  if (mode !== "cubic") return [added];
  const slope = slopeAt(curve, before, frame);
  return [
    withSlope(curve, before, "out"),
    { ...added, handles: { in: tidy(slope), out: tidy(slope) } },
    withSlope(curve, next, "in"),
  ];
}

function valueOn(curve: Curve, frame: number): number | readonly [number, number, number, number] {
  if (curve.width === 1) return tidy(valueAt(curve, frame));
  const value = new Float64Array(4);
  sampleCurve(curve, Float64Array.of(frame), value);
  return [value[0], value[1], value[2], value[3]];
}

/** A key of a curve of one number as it stands, to be given something more. */
function kept({ node, channel, frames, values }: Curve, key: number) {
  return { kind: "set", node, channel, frame: frames[key], value: values[key] } as const;
}

/** A cubic segment's slope at its key, written down. */
function withSlope(curve: Curve, key: number, side: "in" | "out"): KeyEdit {
  const slope = cubicSlope(allKeys(curve), key, side === "in" ? 0 : 2);
  return { ...kept(curve, key), handles: { [side]: slope } };
}

/** Slope of a cubic segment at a frame, in value per frame: the derivative of the Hermite cubic. */
function slopeAt(curve: Curve, key: number, frame: number): number {
  const { frames, values } = curve;
  const span = frames[key + 1] - frames[key];
  const u = (frame - frames[key]) / span;
  const keys = allKeys(curve);
  const [s0, s1] = [cubicSlope(keys, key, 2), cubicSlope(keys, key + 1, 0)];
  const rise = (values[key + 1] - values[key]) / span;
  return 6 * u * (1 - u) * rise + (1 - u) * (1 - 3 * u) * s0 + u * (3 * u - 2) * s1;
}

/** Divides a bezier segment in two of the same shape (de Casteljau's construction). */
function divided(curve: Curve, key: number, frame: number, added: KeyEdit & { kind: "set" }): KeyEdit[] {
  const { frames, values } = curve;
  const next = key + 1;
  readHandles(allKeys(curve), key, next, inner);
  const span = frames[next] - frames[key];
  const s = solveTime(inner.x1, inner.x2, (frame - frames[key]) / span);
  const mix = (a: number, b: number) => a + (b - a) * s;
  const cut = (p0: number, p1: number, p2: number, p3: number) => {
    const [a, b, c] = [mix(p0, p1), mix(p1, p2), mix(p2, p3)];
    return [a, mix(a, b), mix(mix(a, b), mix(b, c)), mix(b, c), c] as const;
  };
  const times = cut(0, inner.x1, inner.x2, 1).map((share) => share * span);
  const heights = cut(values[key], inner.y1, inner.y2, values[next]);
  const handle = (n: number, from: number, base: number) =>
    [tidy(times[n] - from), tidy(heights[n] - base)] as const;
  return [
    {
      ...kept(curve, key),
      handles: { out: handle(0, 0, values[key]) },
    },
    { ...added, handles: { in: handle(1, times[2], heights[2]), out: handle(3, times[2], heights[2]) } },
    {
      ...kept(curve, next),
      handles: { in: handle(4, span, values[next]) },
    },
  ];
}

/** What a key's handle is, as numbers from the key; null where it has none. */
export function handleFrom(curve: Curve, key: number, side: "in" | "out"): readonly [number, number] | null {
  if (!placeOfHandle(curve, key, side, place)) return null;
  return [tidy(place.frame - curve.frames[key]), tidy(place.value - curve.values[key])];
}

/** The ways in which a segment can run. */
export const ways: readonly Interpolation[] = interpolations;
