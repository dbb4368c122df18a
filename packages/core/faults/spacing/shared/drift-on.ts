import { referenceRate } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { chainOf, isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { ramp, reader, type Warp } from "../../shared/keying/courses.ts";
import { laterStop, mirrored } from "../../shared/keying/eased-ends.ts";
import type { FrameSpan } from "../../shared/keying/keying.ts";
import { metresPerUnitOfChannel } from "../../shared/keying/precision.ts";
import { rekeyed } from "../../shared/keying/rekey.ts";
import { retimedInPlace } from "../../shared/keying/retime.ts";
import { type Track, trackOf, tracksOf } from "../../shared/keying/track.ts";
import { wholeFigure } from "../../shared/posing/causes.ts";
import { keptAndPlain } from "../../shared/posing/over-causes.ts";
import type { FreezeFinding } from "./freezes.ts";

/** Lets a body drift on through a freeze, a little and ever slower, the way it came; or run on into it. */
export function* driftsOn(subject: Subject<FreezeFinding>): Generator<KeyEdit[]> {
  const { study, shot, keys } = subject;
  const { from, node } = subject;
  const drift = subject.finding.numbers.drift;
  const rig = rigOf(study);
  const lead = keys.slice(0, 1).flatMap((key) => {
    const index = rig.indexOf.get(key.node);
    return index === undefined ? [] : [trackOf(study, index, key.channel)];
  });
  const figure = figuresOf(study)[subject.figure];
  const chain = node < 0 ? [] : chainOf(rig, node);
  const above = figure === undefined ? chain : chain.slice(Math.max(0, chain.indexOf(figure.root)));
  const sets: Track[][] = [
    lead,
    above.slice(-2).flatMap((joint) => tracksOf(study, joint)),
    above.flatMap((joint) => tracksOf(study, joint)),
    ...wholeLines(subject).map((joints) => joints.flatMap((joint) => tracksOf(study, joint))),
    upperBody(subject).flatMap((joint) => tracksOf(study, joint)),
  ];
  for (const metres of [drift, 1.6 * drift, 2.5 * drift]) {
    for (const tracks of sets) {
      const moved = tracks.filter((track) => way(subject, track, from) !== 0);
      yield* keptAndPlain(
        subject,
        shot,
        moved.flatMap((track) => drifting(subject, track, metres / moved.length)),
      );
    }
  }
  for (const warp of easesInto(subject)) {
    const tracks = wholeFigure(subject, warp.from, warp.to);
    yield tracks.flatMap((track) => retimedInPlace(study, track, warp, warp.warp));
  }
}

/** All of a figure but its legs: where everything stands still, everything drifts. */
function upperBody({ study, figure }: Subject): number[] {
  if (figure < 0) return [];
  const rig = rigOf(study);
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  return figuresOf(study)[figure].nodes.filter((node) => !legs.some(({ root }) => isAbove(rig, root, node)));
}

/** Joints of a trunk, the most that is drifted along it as one part. */
const trunkJoints = 5;

/**
 * Where everything stands still a joint alone leaves a picture: an arm, the trunk with head or neck, and the trunk with both
 * arms, each as a whole.
 */
function wholeLines({ study, figure, node }: Subject): number[][] {
  if (figure < 0) return [];
  const rig = rigOf(study);
  const { parts, root } = figuresOf(study)[figure];
  const arms = limbsOf(study, figure)
    .filter(({ kind }) => kind === "arm")
    .map((arm) => [arm.root, arm.middle, arm.end]);
  const top = parts.get("head")?.[0] ?? node;
  const line = top < 0 ? [] : chainOf(rig, top);
  const trunk = line.slice(Math.max(0, line.indexOf(root)) + 1).slice(-trunkJoints);
  return [...arms, trunk, [...trunk, ...arms.flat()]].filter(({ length }) => length > 0);
}

/** A stop of up to so many frames (at 24 per second) is an accent. */
const accent = 4;

/**
 * Warps by which the whole body runs on into the hold, and leaves it sooner, until no more of it is left than an accent:
 * where a move was cut off in full swing a drift alone would leave its hard stop.
 */
function* easesInto({ study, from, to }: Subject): Generator<FrameSpan & { warp: Warp }> {
  const { frames, rate, step } = gridOf(study);
  const start = frames[from];
  const end = frames[to];
  const length = (end - start) / step;
  const spare = length - Math.round((accent * rate) / referenceRate);
  if (spare <= 0) return;
  for (const more of [0, 1, 2]) {
    for (const share of [1, 0.5, 0.7]) {
      const later = Math.min(length, Math.ceil(share * (spare + more)));
      const sooner = Math.min(length - later, Math.ceil((1 - share) * (spare + more)));
      const stop = laterStop(start, later * step);
      const leave = mirrored(laterStop(end, sooner * step), end);
      const warp: Warp = (frame) => (frame < stop.to ? stop.warp(frame) : leave.warp(frame));
      yield { from: stop.from, to: sooner > 0 ? leave.to : stop.to, warp };
    }
  }
}

/** Frames (at 24 per second) before the hold that say where a part was going: where it came to rest sooner, earlier ones. */
const came = [6, 12, 24];
/** Frames (at 24 per second) after the hold that take the drift back. */
const back = 8;

/** Which way a track went into the hold: −1, 0 or 1. */
function way({ study }: Subject, track: Track, from: number): number {
  if (track.width !== 1) return 0;
  const { frames, rate, step } = gridOf(study);
  const read = reader(track);
  const perUnit = metresPerUnitOfChannel(study, track.node, track.channel);
  for (const sooner of came) {
    const before = Math.max(frames[0], frames[from] - Math.round((sooner * rate) / referenceRate) * step);
    const change = read(frames[from]) - read(before);
    if (Math.abs(change) * perUnit > 1e-3) return Math.sign(change);
  }
  return 0;
}

/** A track that goes on by so many metres through the hold, and has given them back soon after. */
function drifting(subject: Subject, track: Track, metres: number): KeyEdit[] {
  const { study, from, to } = subject;
  const { frames, rate, step, count } = gridOf(study);
  const amount =
    (way(subject, track, from) * metres) / metresPerUnitOfChannel(study, track.node, track.channel);
  const start = frames[from];
  const end = frames[to];
  // Behind the last frame there is nothing to come back to.
  const home = end + (to === count - 1 ? 1 : Math.round((back * rate) / referenceRate)) * step;
  return rekeyed(
    study,
    track,
    { from: start, to: home },
    (frame, out) => {
      track.read(frame, out);
      const t = Math.min(1, Math.max(0, (frame - start) / (end - start)));
      // Slower toward the end, but never still.
      out[0] += amount * t * (1.4 - 0.4 * t) * (1 - ramp(frame, end, home));
    },
    { loose: 0.5 },
  );
}
