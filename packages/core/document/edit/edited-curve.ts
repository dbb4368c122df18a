import type { Curve, CurveExtra } from "../model.ts";
import { handleStride } from "../scan/key-buffer.ts";
import type { CurvePlan, TouchedKey } from "./plan.ts";

/** One key of an edited curve: an index into the curve as it was, or a touched key. */
export type PlannedKey = number | TouchedKey;

/** The keys that a curve has after its edits, in order of time. */
export function plannedKeys(plan: CurvePlan): readonly PlannedKey[] {
  const { curve, removed, touched } = plan;
  const moving = new Set(touched.map((key) => key.source));
  const keys: PlannedKey[] = [];
  let next = 0;
  for (let key = 0; key < curve.frames.length; key++) {
    if (removed.has(key) || moving.has(key)) continue;
    while (next < touched.length && touched[next].frame < curve.frames[key]) keys.push(touched[next++]);
    keys.push(key);
  }
  while (next < touched.length) keys.push(touched[next++]);
  return keys;
}

/** The curve that a plan makes: a new object, without a place. */
export function editedCurve(plan: CurvePlan): Curve {
  const { curve } = plan;
  const { width } = curve;
  const keys = plannedKeys(plan);
  const count = keys.length;
  const stride = handleStride(width);
  const hasHandles =
    curve.handles !== null ||
    plan.touched.some(({ handles }) => handles?.some((number) => !Number.isNaN(number)));
  const hasOwnModes = curve.ownModes !== null || plan.touched.some((key) => key.ownMode);
  const frames = new Float64Array(count);
  const values = new Float64Array(count * width);
  const modes = new Uint8Array(count);
  const handles = hasHandles ? new Float64Array(count * stride).fill(Number.NaN) : null;
  const ownModes = hasOwnModes ? new Uint8Array(count) : null;
  keys.forEach((key, to) => {
    if (typeof key === "number") {
      frames[to] = curve.frames[key];
      for (let n = 0; n < width; n++) values[to * width + n] = curve.values[key * width + n];
      modes[to] = curve.modes[key];
      if (ownModes !== null) ownModes[to] = curve.ownModes?.[key] ?? 0;
      if (handles === null || curve.handles === null) return;
      for (let n = 0; n < stride; n++) handles[to * stride + n] = curve.handles[key * stride + n];
    } else {
      frames[to] = key.frame;
      values.set(key.values, to * width);
      modes[to] = key.mode;
      if (ownModes !== null) ownModes[to] = key.ownMode ? 1 : 0;
      if (handles !== null && key.handles !== null) handles.set(key.handles, to * stride);
    }
  });
  const edited: Curve = {
    node: curve.node,
    channel: curve.channel,
    interpolation: curve.interpolation,
    width,
    frames,
    values,
    modes,
    handles: handles?.some((number) => !Number.isNaN(number)) ? handles : null,
    ownModes: ownModes?.includes(1) ? ownModes : null,
    place: null,
  };
  return curve.extra === undefined ? edited : { ...edited, extra: movedExtra(curve.extra, keys) };
}

function movedExtra(extra: CurveExtra, keys: readonly PlannedKey[]): CurveExtra {
  const moved = new Map<number, Readonly<Record<string, unknown>>>();
  keys.forEach((key, to) => {
    const found = extra.keys.get(typeof key === "number" ? key : key.source);
    if (found !== undefined) moved.set(to, found);
  });
  return { curve: extra.curve, keys: moved };
}
