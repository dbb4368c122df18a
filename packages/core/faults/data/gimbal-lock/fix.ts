import { inRadians } from "../../../base/constants.ts";
import { eulerToQuaternion, logBetween, turnedBy } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { curveName, curveOf } from "../../../document/inputs.ts";
import type { Channel } from "../../../document/model.ts";
import { rotationOrders } from "../../../document/schema.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineFix } from "../../fix.ts";
import type { NoteKey } from "../../note.ts";
import { decimalsOf, rounded } from "../../shared/keying/precision.ts";
import { type Track, trackOf } from "../../shared/keying/track.ts";
import { eulersNear, eulersNearWithin } from "../../shared/posing/euler.ts";
import { offsetTrack } from "../../shared/posing/offsets.ts";
import { gimbalLock } from "./check.ts";

const axes = ["x", "y", "z"] as const;

export const gimbalLockFix = defineFix(gimbalLock, {
  what: "Gives the keys of a joint near lock the other angles of the same turns, those nearest to the keys before. The middle axis goes on past 90° where the outer ones swung round. Every pose stays as it is; where that does not do, the poses near lock give way by up to 3°. A swing that one key makes goes with it: the key comes to lie between its neighbours. Between keys whose angles have to swing, one to three breakdowns lead the joint along its shortest turn. Choosing another rotation order would do more, but is no change of keys.",
  title: ({ node, frames }) =>
    `key ${node ?? "the joint"} by the nearest equal angles from frame ${frames[0]} on`,
  *propose({ study, node, keys, finding }) {
    if (node < 0) return;
    const { frames } = gridOf(study);
    const { first: from, last: to } = finding.numbers;
    yield nearestAngles(study, node, frames[from], frames[to]);
    // The keys before the stretch instead, so that those behind it stay as they are.
    yield nearestAngles(study, node, frames[to], frames[from]);
    for (const degrees of [0.25, 0.5, 1, 2, 3]) yield heldOuter(study, node, from, inRadians(degrees));
    yield keys.flatMap((key) => betweenNeighbours(study, node, key));
    for (const count of [1, 2, 3]) yield breakdowns(study, node, finding, count);
  },
});

/**
 * So many breakdowns between each two keys of a stretch, on the joint's shortest turn from the one to the other, as far
 * along it as the outer axis then is on its way.
 */
function breakdowns(study: Study, node: number, { from, to }: Span, count: number): KeyEdit[] {
  const perUnit = radiansPerUnitOf(study);
  const order = rigOf(study).order[node];
  const outer = "xyz".indexOf(rotationOrders[order][0]);
  const { frames: grid, step } = gridOf(study);
  const tracks = axes.map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const frames = [...new Set(tracks.flatMap(({ curve }) => [...(curve?.frames ?? [])]))].sort(
    (a, b) => a - b,
  );
  const edits: KeyEdit[] = [];
  const [a, b, q] = [new Float64Array(4), new Float64Array(4), new Float64Array(4)];
  for (let key = 0; key + 1 < frames.length; key++) {
    const [start, end] = [frames[key], frames[key + 1]];
    if (end <= grid[from] || start >= grid[to]) continue;
    let before = anglesAt(tracks, start, perUnit);
    const after = anglesAt(tracks, end, perUnit);
    eulerToQuaternion(order, before[0], before[1], before[2], a, 0);
    eulerToQuaternion(order, after[0], after[1], after[2], b, 0);
    const turn = logBetween(a, b);
    const way = after[outer] - before[outer];
    const begun = before[outer];
    for (let n = 1; n <= count; n++) {
      const at = start + step * Math.round((n * (end - start)) / (step * (count + 1)));
      if (at <= start || at >= end || edits.some((edit) => edit.frame === at)) continue;
      const gone = way === 0 ? n / (count + 1) : (anglesAt(tracks, at, perUnit)[outer] - begun) / way;
      const share = Math.min(1, Math.max(0, gone));
      turnedBy(
        a,
        turn.map((angle) => share * angle),
        q,
      );
      before = [...eulersNear(order, q, 0, before)];
      edits.push(...keysOf(study, tracks, at, before, perUnit));
    }
  }
  return edits;
}

/** A key laid on the line between its neighbours. */
function betweenNeighbours(study: Study, node: number, { node: id, channel, index }: NoteKey): KeyEdit[] {
  const curve = curveOf(study, curveName(id, channel));
  if (curve === null || index < 1 || index + 1 >= curve.frames.length) return [];
  const { frames, values } = curve;
  const share = (frames[index] - frames[index - 1]) / (frames[index + 1] - frames[index - 1]);
  const value = values[index - 1] + share * (values[index + 1] - values[index - 1]);
  const decimals = decimalsOf(study, node, channel) + 2;
  return [{ kind: "set", node: id, channel, frame: frames[index], value: rounded(value, decimals) }];
}

/**
 * The outer axis held as far as the poses allow, from a sample on: near lock the outer and the inner axis turn about
 * nearly one line, so that either can do for both. No pose changes by more than `most` radians.
 */
function heldOuter(study: Study, node: number, from: number, most: number): KeyEdit[] {
  const { count } = gridOf(study);
  const rig = rigOf(study);
  const perUnit = radiansPerUnitOf(study);
  const order = rig.order[node];
  const { frames } = gridOf(study);
  const tracks = axes.map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const offsets = tracks.map(() => new Float64Array(count));
  const q = new Float64Array(4);
  let before = anglesAt(tracks, frames[from], perUnit);
  let last = from;
  for (let i = from + 1; i < count; i++) {
    const now = anglesAt(tracks, frames[i], perUnit);
    eulerToQuaternion(order, now[0], now[1], now[2], q, 0);
    before = [...eulersNearWithin(order, q, 0, before, most)];
    const isSame = before.every((angle, axis) => Math.abs(angle - now[axis]) < 1e-4);
    if (!isSame) last = i;
    before.forEach((angle, axis) => {
      offsets[axis][i] = isSame ? 0 : (angle - now[axis]) / perUnit;
    });
  }
  if (last === from) return [];
  const hi = Math.min(count - 1, last + 1);
  return tracks.flatMap((track, axis) =>
    withoutIdle(track, offsetTrack(study, track, { lo: from, hi }, offsets[axis].slice(from, hi + 1))),
  );
}

/** Edits of a track; where they make all of its keys equal, one key is enough, and the others are taken out. */
function withoutIdle({ curve, node, id, channel }: Track, edits: KeyEdit[]): KeyEdit[] {
  if (curve === null || node < 0 || edits.length === 0) return edits;
  const values = new Map<number, number | undefined>();
  for (let key = 0; key < curve.frames.length; key++) values.set(curve.frames[key], curve.values[key]);
  for (const edit of edits) {
    if (edit.kind === "set") values.set(edit.frame, typeof edit.value === "number" ? edit.value : undefined);
  }
  const [first, ...others] = values.keys();
  const value = values.get(first);
  if (value === undefined || [...values.values()].some((one) => one !== value)) return edits;
  return [
    { kind: "set", node: id, channel, frame: first, value },
    ...others
      .filter((frame) => curve.frames.includes(frame))
      .map((frame): KeyEdit => ({ kind: "remove", node: id, channel, frame })),
  ];
}

/**
 * Every key from a frame on (or, where `toward` lies before it, back from it) by the angles nearest to the key before,
 * until they are what they were.
 */
function nearestAngles(study: Study, node: number, start: number, toward: number): KeyEdit[] {
  const perUnit = radiansPerUnitOf(study);
  const order = rigOf(study).order[node];
  const tracks = axes.map((axis) => trackOf(study, node, `rotation.${axis}` as Channel));
  const direction = toward >= start ? 1 : -1;
  const frames = [...new Set(tracks.flatMap(({ curve }) => [...(curve?.frames ?? [])]))].sort(
    (a, b) => direction * (a - b),
  );
  const edits: KeyEdit[] = [];
  let before: number[] | null = null;
  const q = new Float64Array(4);
  for (const frame of frames) {
    const now = anglesAt(tracks, frame, perUnit);
    if (before === null || direction * (frame - start) <= 0) {
      before = now;
      continue;
    }
    eulerToQuaternion(order, now[0], now[1], now[2], q, 0);
    const chosen: number[] = [...eulersNear(order, q, 0, before)];
    const isSame = chosen.every((angle, axis) => Math.abs(angle - now[axis]) < 1e-6);
    if (isSame && direction * (frame - toward) > 0) break;
    if (!isSame) edits.push(...keysOf(study, tracks, frame, chosen, perUnit));
    before = isSame ? now : chosen;
  }
  return edits;
}

function anglesAt(tracks: readonly Track[], frame: number, perUnit: number): number[] {
  const value = new Float64Array(1);
  return tracks.map((track) => {
    track.read(frame, value);
    return value[0] * perUnit;
  });
}

function keysOf(
  study: Study,
  tracks: readonly Track[],
  frame: number,
  angles: readonly number[],
  perUnit: number,
): KeyEdit[] {
  return tracks.map(({ node, id, channel }, axis) => ({
    kind: "set",
    node: id,
    channel,
    frame,
    value: rounded(angles[axis] / perUnit, decimalsOf(study, node, channel) + 2),
  }));
}
