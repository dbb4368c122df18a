import { conjugate, eulerToQuaternion, rotated, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { cubicMode } from "../../../curve/keys.ts";
import type { KeyEdit, SetKey } from "../../../document/edit.ts";
import type { Channel, Curve } from "../../../document/model.ts";
import { quaternionCurveOf } from "../../../rig/local.ts";
import { outerWorldOf, worldOf } from "../../../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { metresPerUnitOf } from "../../../rig/stature.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { decimalsOf, rounded } from "../keying/precision.ts";
import { type Track, trackOf, turnTracksOf } from "../keying/track.ts";
import { eulersNear } from "./euler.ts";
import type { Samples } from "./offsets.ts";

/** What is asked for at a sample: a turn as a rotation vector (radians), or a way (metres), in the world; null for none. */
export type AtSample = (sample: number) => Vector | null;

/** Keys that are to change: those of some samples, and how much of what is asked each gets. */
export interface KeysWithin extends Samples {
  readonly shareAt: (sample: number) => number;
}

/** Decimals of a quaternion's numbers. */
const quaternionDecimals = 6;

/**
 * Edits that turn a node at the keys that it has: each keeps its frame, and what lies between follows.
 * @param within the keys that are turned
 */
export function turnedAtKeys(study: Study, node: number, within: KeysWithin, turnAt: AtSample): KeyEdit[] {
  const quaternions = quaternionCurveOf(study, node);
  if (quaternions !== null) return turnedQuaternions(study, node, quaternions, within, turnAt);
  const perUnit = radiansPerUnitOf(study);
  const tracks = ["x", "y", "z"].map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const value = new Float64Array(1);
  return keyFrames(study, turnTracksOf(study, node), within).flatMap((frame) => {
    const turn = shareOf(study, within, frame, turnAt);
    if (turn === null) return [];
    const now = tracks.map((track) => {
      track.read(frame, value);
      return value[0] * perUnit;
    });
    const wanted = turnedEulers(study, node, frame, now, turn);
    return tracks.flatMap(({ id, channel, curve }, axis): SetKey[] => {
      if (curve === null || !hasKeyAt(curve, frame)) return [];
      const decimals = decimalsOf(study, node, channel);
      return setIfOther(id, channel, frame, now[axis] / perUnit, wanted[axis] / perUnit, decimals);
    });
  });
}

/**
 * Edits that add the same to each key that turns a node: what makes the turn that is asked of one sample.
 * @param at the sample
 * @returns none of a node whose keys are quaternions: {@link turnedAtKeys} does the same there
 */
export function raisedKeys(
  study: Study,
  node: number,
  within: KeysWithin,
  turnAt: AtSample,
  at: number,
): KeyEdit[] {
  const turn = turnAt(at);
  if (turn === null || quaternionCurveOf(study, node) !== null) return [];
  const perUnit = radiansPerUnitOf(study);
  const frame = gridOf(study).frames[at];
  const value = new Float64Array(1);
  const tracks = ["x", "y", "z"].map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const now = tracks.map((track) => {
    track.read(frame, value);
    return value[0] * perUnit;
  });
  const wanted = turnedEulers(study, node, frame, now, turn);
  return tracks.flatMap((track, axis) => {
    const by = (wanted[axis] - now[axis]) / perUnit;
    const decimals = decimalsOf(study, node, track.channel);
    // What hardly turns is left alone.
    if (Math.abs(wanted[axis] - now[axis]) < 0.05 * vectorLength(turn)) return [];
    return keyFrames(study, [track], within).flatMap((key) => {
      track.read(key, value);
      const share = within.shareAt(sampleAt(gridOf(study), key));
      return setIfOther(track.id, track.channel, key, value[0], value[0] + share * by, decimals);
    });
  });
}

/** Axis angles of a node turned in the world, near those that it has. */
function turnedEulers(
  study: Study,
  node: number,
  frame: number,
  now: readonly number[],
  turn: Vector,
): Float64Array {
  const { order } = rigOf(study);
  const own = new Float64Array(4);
  eulerToQuaternion(order[node], now[0], now[1], now[2], own, 0);
  // A turn in the world, in the node's own axes behind those of its channels.
  turnedBy(own, rotated(conjugate(own, 0), inChannelAxes(study, node, frame, turn)), own);
  return eulersNear(order[node], own, 0, now);
}

/** Edits that shift a node through the world at the keys that it has; see {@link turnedAtKeys}. */
export function shiftedAtKeys(study: Study, node: number, within: KeysWithin, wayAt: AtSample): KeyEdit[] {
  const metres = metresPerUnitOf(study);
  const value = new Float64Array(1);
  return ["x", "y", "z"].flatMap((axis, k) => {
    const track = trackOf(study, node, `translation.${axis}` as Channel);
    if (track.curve === null) return [];
    const decimals = decimalsOf(study, node, track.channel);
    return keyFrames(study, [track], within).flatMap((frame) => {
      const way = shareOf(study, within, frame, wayAt);
      if (way === null) return [];
      track.read(frame, value);
      const by = inParent(study, node, frame, way)[k] / metres;
      return setIfOther(track.id, track.channel, frame, value[0], value[0] + by, decimals);
    });
  });
}

function turnedQuaternions(
  study: Study,
  node: number,
  { node: id, channel, frames, values, modes, handles }: Curve,
  within: KeysWithin,
  turnAt: AtSample,
): KeyEdit[] {
  const track = trackOf(study, node, channel);
  return keyFrames(study, [track], within).flatMap((frame): SetKey[] => {
    const turn = shareOf(study, within, frame, turnAt);
    if (turn === null) return [];
    const source = frames.indexOf(frame);
    const own = values.slice(4 * source, 4 * source + 4);
    turnedBy(own, rotated(conjugate(own, 0), inChannelAxes(study, node, frame, turn)), own);
    const value = [...own].map((number) => rounded(number, quaternionDecimals)) as unknown as SetKey["value"];
    const edit: SetKey = { kind: "set", node: id, channel, frame, value };
    // Slopes of a key that turns are left to be worked out.
    const isCubic = handles !== null && modes[source] === cubicMode;
    return [isCubic ? { ...edit, handles: { in: null, out: null } } : edit];
  });
}

/** A vector of the world in the axes in which a node's channels turn it. */
function inChannelAxes(study: Study, node: number, frame: number, vector: Vector): Vector {
  return rotated(conjugate(rigOf(study).fixedRotation, 4 * node), inParent(study, node, frame, vector));
}

function inParent(study: Study, node: number, frame: number, vector: Vector): Vector {
  const parent = rigOf(study).parent[node];
  const { orientation } = parent < 0 ? outerWorldOf(study, undefined) : worldOf(study, parent);
  const at = sampleAt(gridOf(study), frame);
  return rotated(conjugate(orientation, 4 * at), vector);
}

/** Frames at which any of some channels has a key within samples, in order. */
function keyFrames(study: Study, tracks: readonly Track[], { lo, hi }: Samples): number[] {
  const { frames } = gridOf(study);
  const found = new Set<number>();
  for (const { curve } of tracks)
    for (const frame of curve?.frames ?? []) if (frame >= frames[lo] && frame <= frames[hi]) found.add(frame);
  return [...found].sort((a, b) => a - b);
}

function shareOf(study: Study, { shareAt }: KeysWithin, frame: number, asked: AtSample): Vector | null {
  const at = sampleAt(gridOf(study), frame);
  const whole = asked(at);
  return whole === null ? null : scaled(whole, shareAt(at));
}

function hasKeyAt({ frames }: Curve, frame: number): boolean {
  return frames.includes(frame);
}

function setIfOther(
  node: string,
  channel: Channel,
  frame: number,
  before: number,
  after: number,
  decimals: number,
): SetKey[] {
  const value = rounded(after, decimals);
  return value === rounded(before, decimals) ? [] : [{ kind: "set", node, channel, frame, value }];
}
