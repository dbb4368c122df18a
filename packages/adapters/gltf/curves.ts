import { type Channel, type Curve, interpolations } from "@keyside/core";
import { isUsable } from "@keyside/core/internal";
import type { Problems } from "../problems.ts";
import type { Accessors } from "./accessors.ts";
import { zoomTarget } from "./cameras.ts";
import type { GltfAnimation } from "./document.ts";

const kinds = ["translation", "rotation", "scale"] as const;
/** What the interpolations of the format are called here. */
export const samplerModes: ReadonlyMap<string, "step" | "linear" | "cubic"> = new Map([
  ["STEP", "step"],
  ["LINEAR", "linear"],
  ["CUBICSPLINE", "cubic"],
]);
/** Times are single-precision seconds: a key this near to a whole frame, in frames, stands on it. */
const frameSlack = 1e-3;

/** How seconds become frames. */
export interface FrameCount {
  /** Frames per second. */
  readonly rate: number;
  /** The frame at second 0. */
  readonly first: number;
}

/** Paths of channels that are legal and no part of a pose, and what they are called. */
const unjudged: Readonly<Record<string, string>> = {
  weights: "Weights of morph targets",
  pointer: "Properties that are animated by pointers",
};

/** Curves of an animation, key times in frames. What is legal and not judged becomes a remark. */
export function curvesOf(
  animation: GltfAnimation,
  path: string,
  ids: readonly string[],
  accessors: Accessors,
  count: FrameCount,
  problems: Problems,
  remarks: string[],
): Curve[] {
  const { rate } = count;
  const passedOver = new Map<string, number>();
  const curves: Curve[] = [];
  const driven = new Set<string>();
  (animation.channels ?? []).forEach(({ sampler: samplerIndex, target }, i) => {
    const at = `${path}/channels/${i}`;
    const node = ids[target.node ?? -1];
    const kind = kinds.find((one) => one === target.path);
    if (zoomTarget(target) !== null) return;
    if (Object.hasOwn(unjudged, target.path ?? "")) {
      passedOver.set(target.path, (passedOver.get(target.path) ?? 0) + 1);
      return;
    }
    // A channel without a node is meant for an extension, and to be passed over (specification 3.11).
    if (kind !== undefined && target.node === undefined) {
      passedOver.set("node", (passedOver.get("node") ?? 0) + 1);
      return;
    }
    if (node === undefined || kind === undefined) {
      const path = target.path === undefined ? "nothing" : `"${target.path.slice(0, 40)}"`;
      const what = kind === undefined ? `drives ${path}, which is no part of a pose` : "has no node";
      problems.add("animation-channel", `Channel ${i} ${what}; it is passed over.`, 0, 0, at);
      return;
    }
    const sampler = animation.samplers?.[samplerIndex];
    const mode = samplerModes.get(sampler?.interpolation ?? "LINEAR");
    if (sampler?.input === undefined || sampler.output === undefined || mode === undefined) {
      problems.add(
        "animation-sampler",
        `Channel ${i} has no sampler of a known kind; it is passed over.`,
        0,
        0,
        at,
      );
      return;
    }
    if (driven.has(`${node} ${kind}`)) {
      problems.add(
        "duplicate-curve",
        `"${node}" has a second ${target.path} channel; the first counts.`,
        0,
        0,
        at,
      );
      return;
    }
    driven.add(`${node} ${kind}`);
    const width = kind === "rotation" ? 4 : 3;
    const times = accessors.numbers(sampler.input, 1);
    const output = accessors.numbers(sampler.output, width);
    if (times === null || output === null) return;
    const perKey = mode === "cubic" ? 3 * width : width;
    const order = usableKeys(times, output, perKey, at, problems);
    if (order.length === 0) return;
    const frames = Float64Array.from(order, (key) => onFrame(times[key] * rate) + count.first);
    const keys = { node, mode, frames, order, output, perKey, width, rate };
    if (kind === "rotation") curves.push(makeCurve(keys, "rotation", 0, 4));
    else {
      (["x", "y", "z"] as const).forEach((axis, k) => {
        curves.push(makeCurve(keys, `${kind}.${axis}`, k, 1));
      });
    }
  });
  for (const [kind, channels] of passedOver) {
    const what = unjudged[kind] ?? "Channels without a node";
    remarks.push(`${what} are not judged (${channels} ${channels === 1 ? "channel" : "channels"}).`);
  }
  return curves;
}

/** A time in frames; what is as good as on a whole frame stands on it. */
export function onFrame(frame: number): number {
  const whole = Math.round(frame);
  return Math.abs(frame - whole) < frameSlack ? whole : frame;
}

/** Indices of the keys that have a time later than the one before and numbers that are finite. */
export function usableKeys(
  times: Float64Array,
  output: Float64Array,
  perKey: number,
  path: string,
  problems: Problems,
): number[] {
  const count = Math.min(times.length, Math.floor(output.length / perKey));
  if (times.length * perKey !== output.length) {
    const message = `${times.length} times stand against ${output.length / perKey} values; the first ${count} are read.`;
    problems.add("key-count", message, 0, 0, path);
  }
  const keys: number[] = [];
  for (let key = 0; key < count; key++) {
    const finite = output.subarray(key * perKey, (key + 1) * perKey).every(isUsable);
    const last = keys.length === 0 ? Number.NEGATIVE_INFINITY : times[keys[keys.length - 1]];
    if (finite && isUsable(times[key]) && times[key] > last) keys.push(key);
    else {
      const message = `Key ${key} is not later than the one before, or not a number; it is left out.`;
      problems.add("key", message, 0, 0, path);
    }
  }
  return keys;
}

interface Keys {
  readonly node: string;
  readonly mode: "step" | "linear" | "cubic";
  readonly frames: Float64Array;
  readonly order: readonly number[];
  readonly output: Float64Array;
  readonly perKey: number;
  readonly width: number;
  readonly rate: number;
}

/**
 * The curve of some of a sampler's components. A cubic key holds in-tangent, value, out-tangent (specification
 * appendix C); tangents are per second and become slopes per frame.
 */
function makeCurve(keys: Keys, channel: Channel, first: number, width: 1 | 4): Curve {
  const { order, output, perKey, rate } = keys;
  const isCubic = keys.mode === "cubic";
  const valueAt = isCubic ? keys.width : 0;
  const values = new Float64Array(order.length * width);
  const handles = isCubic ? new Float64Array(order.length * (width === 1 ? 4 : 8)).fill(Number.NaN) : null;
  order.forEach((key, i) => {
    const at = key * perKey + first;
    for (let k = 0; k < width; k++) {
      values[i * width + k] = output[at + valueAt + k];
      if (handles === null) continue;
      const [inAt, outAt] = width === 1 ? [4 * i + 1, 4 * i + 3] : [8 * i + k, 8 * i + 4 + k];
      handles[inAt] = output[at + k] / rate;
      handles[outAt] = output[at + 2 * keys.width + k] / rate;
    }
  });
  return {
    node: keys.node,
    channel,
    interpolation: keys.mode,
    width,
    frames: keys.frames,
    values,
    modes: new Uint8Array(order.length).fill(interpolations.indexOf(keys.mode)),
    handles,
    ownModes: null,
    place: null,
  };
}
