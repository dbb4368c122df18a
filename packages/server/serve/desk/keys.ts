import { type Channel, type Curve, curveName, interpolations, type Shot } from "@keyside/core";
import { sameCurveData } from "@keyside/core/internal";
import type { ChannelChange, ChannelKeys, DeskChannel, DeskKey } from "@keyside/desk/link";

/** Curves as the page is told of them. */

/** All channels that have keys, without these. */
export function channelsOf(shot: Shot): DeskChannel[] {
  return shot.curves.map(({ node, channel, interpolation, frames }) => ({
    node,
    channel,
    interpolation,
    count: frames.length,
  }));
}

/** The keys of a channel; none where it has no curve. */
export function keysOf(shot: Shot, node: string, channel: Channel): ChannelKeys {
  const curve = shot.curves.find((one) => one.node === node && one.channel === channel);
  if (curve === undefined) return { node, channel, interpolation: "linear", keys: [] };
  return {
    node,
    channel,
    interpolation: curve.interpolation,
    keys: keysBetween(curve, 0, curve.frames.length),
  };
}

/** What has become of keys from one version of a shot to the next, a stretch of keys for each channel. */
export function keyChanges(before: Shot, after: Shot): ChannelChange[] {
  const old = new Map(before.curves.map((curve) => [curveName(curve.node, curve.channel), curve]));
  const changes: ChannelChange[] = [];
  for (const curve of after.curves) {
    const name = curveName(curve.node, curve.channel);
    const known = old.get(name);
    old.delete(name);
    if (known !== undefined && sameCurveData(known, curve)) continue;
    const change = changeOf(known, curve);
    if (change !== null) changes.push(change);
  }
  for (const { node, channel, interpolation, frames } of old.values()) {
    changes.push({ node, channel, interpolation, at: 0, removed: frames.length, keys: [], count: 0 });
  }
  return changes;
}

function changeOf(before: Curve | undefined, after: Curve): ChannelChange | null {
  const { node, channel, interpolation, frames } = after;
  const count = frames.length;
  if (before === undefined || before.width !== after.width || before.interpolation !== interpolation) {
    const removed = before?.frames.length ?? 0;
    return { node, channel, interpolation, at: 0, removed, keys: keysBetween(after, 0, count), count };
  }
  const [a, b] = [before.frames.length, count];
  const shorter = Math.min(a, b);
  let at = 0;
  while (at < shorter && isSameKey(before, at, after, at)) at++;
  let end = 0;
  while (end < shorter - at && isSameKey(before, a - 1 - end, after, b - 1 - end)) end++;
  const removed = a - end - at;
  const keys = keysBetween(after, at, b - end);
  return removed === 0 && keys.length === 0
    ? null
    : { node, channel, interpolation, at, removed, keys, count };
}

/** Two keys are the same where the page would be told the same of them. */
function isSameKey(a: Curve, i: number, b: Curve, j: number): boolean {
  if (!Object.is(a.frames[i], b.frames[j]) || a.modes[i] !== b.modes[j]) return false;
  if ((a.ownModes?.[i] ?? 0) !== (b.ownModes?.[j] ?? 0)) return false;
  const { width } = a;
  for (let k = 0; k < width; k++) {
    if (!Object.is(a.values[width * i + k], b.values[width * j + k])) return false;
  }
  const stride = width === 1 ? 4 : 8;
  for (let k = 0; k < stride; k++) {
    const one = a.handles?.[stride * i + k] ?? Number.NaN;
    if (!Object.is(one, b.handles?.[stride * j + k] ?? Number.NaN)) return false;
  }
  return true;
}

function keysBetween(curve: Curve, from: number, to: number): DeskKey[] {
  return Array.from({ length: to - from }, (_, at) => keyAt(curve, from + at));
}

function keyAt({ frames, width, values, handles, modes, ownModes }: Curve, key: number): DeskKey {
  const half = width === 1 ? 2 : 4;
  const side = (at: number) => {
    if (handles === null) return undefined;
    const numbers = [...handles.subarray(2 * half * key + at, 2 * half * key + at + half)];
    if (Number.isNaN(numbers[half - 1])) return undefined;
    // A slope has no frames beside it.
    return Number.isNaN(numbers[0]) ? numbers[half - 1] : numbers;
  };
  const [before, after] = [side(0), side(half)];
  return {
    frame: frames[key],
    value: width === 1 ? values[key] : [...values.subarray(4 * key, 4 * key + 4)],
    ...(before === undefined ? {} : { in: before }),
    ...(after === undefined ? {} : { out: after }),
    interpolation: interpolations[modes[key]],
    ...(ownModes?.[key] === 1 ? { isOwn: true } : {}),
  };
}
