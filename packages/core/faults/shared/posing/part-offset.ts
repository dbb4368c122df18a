import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf, subtreeOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { ramp, type Warp } from "../keying/courses.ts";
import { isOnEveryFrame } from "../keying/on-every-frame.ts";
import { retimed } from "../keying/retime.ts";
import { type Track, tracksOf } from "../keying/track.ts";

/** An offset in time of what a part does over some frames. */
export interface TimeOffset {
  /** First and last frame (of the document) that are offset in full. */
  readonly from: number;
  readonly to: number;
  /** Frames later; negative for earlier. */
  readonly by: number;
  /** Frames before and behind over which the offset comes and goes. */
  readonly rampIn: number;
  readonly rampOut: number;
}

/** The warp of an offset. */
export function offsetWarp({ from, to, by, rampIn, rampOut }: TimeOffset): Warp {
  return (frame) => {
    const share = ramp(frame, from - rampIn, from) * (1 - ramp(frame, to, to + rampOut));
    return frame - by * share;
  };
}

/** Edits that offset nodes in time. At an end of the range the offset lasts to the end. */
export function offsetInTime(study: Study, nodes: readonly number[], offset: TimeOffset): KeyEdit[] {
  const grid = gridOf(study);
  const [first, last] = [grid.frames[0], grid.frames[grid.count - 1]];
  const starts = offset.from - offset.rampIn <= first;
  const ends = offset.to + offset.rampOut >= last;
  const whole = {
    ...offset,
    ...(starts ? { from: first, rampIn: 0 } : {}),
    ...(ends ? { to: last, rampOut: 0 } : {}),
  };
  const margin = Math.abs(offset.by) + 1;
  const span = {
    from: starts ? first - margin : whole.from - whole.rampIn,
    to: ends ? last + margin : whole.to + whole.rampOut,
  };
  // Before the range and behind it nothing is seen; the offset holds there.
  const warp: Warp = (frame) => {
    if (starts && frame < first) return frame;
    if (ends && frame > last) return frame;
    return offsetWarp(whole)(frame);
  };
  return nodes.flatMap((node) => tracksOf(study, node).flatMap((track) => retimed(study, track, span, warp)));
}

/**
 * Edits that offset nodes in time as sets of keys: those of the frames, and as many beside them as it takes until there is
 * room, are slid by whole frames and stay what they are. Curves in which there is no room, as of keys on every frame, are
 * offset as by {@link offsetInTime}.
 */
export function slidInTime(study: Study, nodes: readonly number[], offset: TimeOffset): KeyEdit[] {
  return nodes.flatMap((node) => {
    const slid = tracksOf(study, node).map((track) => slidKeys(study, track, offset));
    return slid.some((edits) => edits === null)
      ? offsetInTime(study, [node], offset)
      : slid.flatMap((edits) => edits ?? []);
  });
}

/** Share of the way to the next key that is left at least where keys are slid toward it. */
const leastRoom = 0.5;

/** A curve's keys slid by whole frames; null where there is no room for it. */
function slidKeys(study: Study, { curve, id, channel }: Track, offset: TimeOffset): KeyEdit[] | null {
  const { from, to, by, rampIn, rampOut } = offset;
  if (curve === null) return [];
  const { frames } = curve;
  if (!Number.isInteger(by) || isOnEveryFrame(study, curve)) return null;
  let first = frames.findIndex((frame) => frame >= from);
  let last = frames.findLastIndex((frame) => frame <= to);
  if (first < 0 || last < 0 || last < first) return [];
  // Toward a neighbour some of the way is left; where nothing lies between the two, a frame is enough.
  const isRoomy = (key: number, next: number, toward: number) => {
    if (next < 0 || next >= frames.length || toward <= 0) return true;
    const gap = Math.abs(frames[next] - frames[key]);
    return gap - toward >= (isHold(curve, key, next) ? 1 : Math.max(1, leastRoom * gap));
  };
  while (!isRoomy(first, first - 1, -by)) first--;
  while (!isRoomy(last, last + 1, by)) last++;
  if (frames[first] < from - rampIn || frames[last] > to + rampOut) return null;
  return Array.from(frames.subarray(first, last + 1), (frame) => ({
    kind: "move",
    node: id,
    channel,
    frame,
    toFrame: frame + by,
  }));
}

/** Whether a curve has one value in two of its keys. */
function isHold({ values, width }: Curve, a: number, b: number): boolean {
  for (let k = 0; k < width; k++) if (values[width * a + k] !== values[width * b + k]) return false;
  return true;
}

/** A node and what hangs on it, within its figure. */
export function partBelow(study: Study, figure: number, node: number): number[] {
  const within = new Set(figure < 0 ? [] : figuresOf(study)[figure].nodes);
  return subtreeOf(rigOf(study), node).filter((below) => figure < 0 || within.has(below));
}
