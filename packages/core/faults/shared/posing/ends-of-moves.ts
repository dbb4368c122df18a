import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { type EasedEnd, laterStop, mirrored, softerStop } from "../keying/eased-ends.ts";
import { metresPerUnitOfChannel } from "../keying/precision.ts";
import { retimed, retimedInPlace } from "../keying/retime.ts";
import { type Track, tracksOf } from "../keying/track.ts";
import { causeSets, moves } from "./causes.ts";
import { keptAndPlain } from "./over-causes.ts";

/** A channel that goes on after the rest by more than this (metres) has no hold to run into. */
const leastMove = 1e-3;

/**
 * Eases of a hard stop (`direction` −1) or a hard start (1): the move takes more frames from the hold beside it; where
 * the hold is too short for that, the ease is taken from the move.
 * @param takes judged frames that an eased end of this move takes
 */
export function* easedEnds(
  subject: Subject,
  shot: Shot,
  direction: 1 | -1,
  takes: number,
): Generator<KeyEdit[]> {
  const { study, from, to } = subject;
  const { frames, step, count } = gridOf(study);
  const rest = frames[direction < 0 ? to : from];
  const fast = frames[direction < 0 ? from : to];
  const eased = takes * step;
  const ends: EasedEnd[] = [];
  const add = (stop: (rest: number) => EasedEnd) => {
    const end = direction < 0 ? stop(rest) : mirrored(stop(rest), rest);
    if (end.from >= frames[0] - step && end.to <= frames[count - 1] + step) ends.push(end);
  };
  const whole = new Set([0.5, 0.35, 0.75, 1, 1.4].map((share) => Math.max(1, Math.ceil(share * eased))));
  for (const later of whole) add((at) => laterStop(at, later));
  for (const share of [1, 1.5]) {
    for (const back of [3, 5]) add((at) => softerStop(at - back * eased, at, share * eased));
  }
  const lead = Math.max(2 * eased, Math.abs(fast - rest));
  const window = direction < 0 ? [rest - lead, rest] : [rest, rest + lead];
  for (const tracks of [...ownJoint(subject, window), ...causeSets(subject, window[0], window[1])]) {
    for (const end of ends) {
      const held = tracks.filter((track) => isContinuous(subject, track, end));
      for (const keys of [retimed, retimedInPlace]) {
        const edits = held.flatMap((track) => keys(study, track, end, end.warp));
        yield* keptAndPlain(subject, shot, edits);
      }
    }
  }
}

/** All that drives the joint of the first key: its path is kept where its channels are played alike. */
function ownJoint(subject: Subject, [from, to]: readonly number[]): Track[][] {
  const { study, keys } = subject;
  const node = rigOf(study).indexOf.get(keys[0]?.node ?? "");
  if (node === undefined) return [];
  const own = tracksOf(study, node).filter((track) => moves(subject, track, from, to));
  return own.length === 0 ? [] : [own];
}

/** Whether a track that is played by a warp meets what it does outside of it. */
function isContinuous({ study }: Subject, track: Track, { from, to, warp }: EasedEnd): boolean {
  const perUnit = metresPerUnitOfChannel(study, track.node, track.channel);
  const a = new Float64Array(4);
  const b = new Float64Array(4);
  return [from, to].every((frame) => {
    track.read(frame, a);
    track.read(warp(frame), b);
    for (let k = 0; k < track.width; k++) if (Math.abs(a[k] - b[k]) * perUnit > leastMove) return false;
    return true;
  });
}
