import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf, subtreeOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { ramp, type Warp } from "../keying/courses.ts";
import { retimed } from "../keying/retime.ts";
import { tracksOf } from "../keying/track.ts";

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

/** A node and what hangs on it, within its figure. */
export function partBelow(study: Study, figure: number, node: number): number[] {
  const within = new Set(figure < 0 ? [] : figuresOf(study)[figure].nodes);
  return subtreeOf(rigOf(study), node).filter((below) => figure < 0 || within.has(below));
}
