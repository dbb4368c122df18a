import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import { ownTurnsOf } from "../../../motion/path/noise.ts";
import { channelSeriesOf } from "../../../rig/channels.ts";
import { curveNamesOfNode } from "../../../rig/pose.ts";
import { radiansPerUnitOf, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { offCourse, type Stray } from "./off-course.ts";

/** By which keys a part is off its course: whether it is one alone, and whether that stands by itself. */

/** A lone key gives this share of a stray at least, or else it is not the one (our choice: three axes that give it alike have 0.58 each). */
const leastOfKey = 0.4;
/** What is off its own course by this share of a stray moves with it (our choice). */
const withIt = 0.25;

/**
 * Whether a curve has a key that can be the only one in a stretch of `fewest` samples: one with a key on every frame
 * has none, and nothing more is asked of it.
 */
export function hasLoneKey(study: Study, name: string, fewest: number): boolean {
  const { frames, step } = gridOf(study);
  const keys = curveOf(study, name)?.frames ?? [];
  const least = (fewest + 1) * step;
  for (let i = 0; i < keys.length; i++) {
    const before = i > 0 ? keys[i - 1] : frames[0];
    const after = i + 1 < keys.length ? keys[i + 1] : frames[frames.length - 1];
    if (after - before >= least) return true;
  }
  return false;
}

/** Whether one of a node's curves that count has a single key between the samples beside a stray. */
export function isOfOneKey(
  study: Study,
  node: number,
  stray: Stray,
  counts: (curve: string) => boolean,
): boolean {
  const [from, to] = framesBeside(study, stray);
  return curveNamesOfNode(study, node).some(
    (name) => counts(name) && keysBetween(study, name, from, to) === 1,
  );
}

/**
 * Whether a stray is of one key that stands by itself: in a curve that counts, between two keys of it at which another
 * curve of the joint has one as well. Whoever poses a part keys more of it, as before and behind, and moves more than the
 * one joint: neither have the joint's other curves a key there, nor leaves what carries it, or hangs on it, its course.
 */
export function isByItself(
  study: Study,
  node: number,
  stray: Stray,
  counts: (curve: string) => boolean,
): boolean {
  const [from, to] = framesBeside(study, stray);
  const own = curveNamesOfNode(study, node);
  const isAlone = own.some((name) => {
    const keys = curveOf(study, name)?.frames ?? [];
    const at = keys.findIndex((key) => key > from && key < to);
    if (at < 1 || at + 1 >= keys.length || keys[at + 1] < to) return false;
    const others = own.filter((other) => other !== name);
    if (others.some((other) => keysBetween(study, other, from, to) > 0)) return false;
    const isPosed = (key: number) => others.some((other) => hasKeyAt(study, other, key));
    return isPosed(keys[at - 1]) && isPosed(keys[at + 1]) && counts(name);
  });
  if (!isAlone) return false;
  const { parent, children } = rigOf(study);
  const beside = parent[node] < 0 ? children[node] : [parent[node], ...children[node]];
  return beside.every((other) => {
    const turns = ownTurnsOf(study, other);
    return turns === null || offCourse(turns, stray.at, stray.length) < withIt * stray.deviation;
  });
}

/** Frames of the samples beside a stray. */
function framesBeside(study: Study, { at, length }: Stray): readonly [number, number] {
  const { frames } = gridOf(study);
  return [frames[at - 1], frames[at + length]];
}

function keysBetween(study: Study, name: string, from: number, to: number): number {
  let between = 0;
  for (const key of curveOf(study, name)?.frames ?? []) if (key > from && key < to) between++;
  return between;
}

/** Whether a curve has a key at a frame, to within half a judged frame. */
function hasKeyAt(study: Study, name: string, frame: number): boolean {
  const { step } = gridOf(study);
  const keys = curveOf(study, name)?.frames ?? [];
  return keys.some((key) => Math.abs(key - frame) <= step / 2);
}

/** Whether a curve that turns a joint leaves its own course by a good part of a stray; a quaternion's is the joint's. */
export function givesTurn(study: Study, name: string, { at, length, deviation }: Stray): boolean {
  if (name.endsWith(" rotation")) return true;
  const series = name.slice(0, -1).endsWith(" rotation.") ? channelSeriesOf(study, name) : null;
  if (series === null) return false;
  const path = new Float64Array(3 * series.length);
  for (let i = Math.max(0, at - 2); i < Math.min(series.length, at + length + 2); i++)
    path[3 * i] = radiansPerUnitOf(study) * series[i];
  return offCourse(path, at, length) >= leastOfKey * deviation;
}
