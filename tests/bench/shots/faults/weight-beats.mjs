// @ts-check
/**
 * Wings that do not beat for what the body does.
 * @import { Body, FaultKind, KeyedShot, Place, Poses, Random } from "../types.d.ts"
 */
import { addTrack, channelAt, copy } from "../motion/index.mjs";
import { bodyOf, carrierOf, endOf, eventsOf, isBlocked, keepEnds } from "./tools/limbs.mjs";
import { at24, over, sampled, turns, within } from "./tools/windows.mjs";

/** @typedef {Place & { limbs: number[], beat: number }} BeatPlace `beat`: frames of one beat */

/**
 * Runs of beats that follow each other without a pause.
 * @param {KeyedShot} clean @param {number} least @param {number} most beats
 * @param {Random} random
 * @returns {{ figure: string, body: Body, limbs: number[], from: number, to: number, beat: number }[]}
 */
function runsOfBeats({ performance }, least, most, random) {
  const runs = [];
  for (const { id: figure, body } of performance.figures) {
    const beats = eventsOf(performance, "beat", figure)
      .filter(({ limbs }) => limbs.some((n) => body.limbs[n].kind === "wing"))
      .sort((a, b) => a.from - b.from);
    for (let i = 0; i + least <= beats.length; i++) {
      const wanted = random.integer(least, most);
      const run = beats.slice(i, i + wanted);
      const isWhole = run.every((beat, n) => n === 0 || beat.from - run[n - 1].to <= 1);
      if (run.length < wanted || !isWhole) continue;
      const [from, to] = [run[0].from, run[run.length - 1].to];
      const limbs = [...new Set(run.flatMap((beat) => [...beat.limbs]))].filter(
        (n) => body.limbs[n].kind === "wing",
      );
      runs.push({ figure, body, limbs, from, to, beat: (to - from) / run.length });
      i += wanted - 1;
    }
  }
  return runs;
}

/** Height of a wing's end above its root. @param {Poses} poses @param {Body} body @param {number} limb
 * @param {number} frame */
function flapped(poses, body, limb, frame) {
  const { joints } = body.limbs[limb];
  const [top, end] = [poses.position(joints[0], frame), poses.position(endOf(body.limbs[limb]), frame)];
  return end[1] - top[1];
}

/** @type {FaultKind} */
export const beatMismatch = {
  name: "weak beat in level flight",
  checks: ["beat-mismatch"],
  unit: "share of the beat's amplitude that is missing",
  sizes: [
    {
      value: 0.35,
      reason:
        "Lift goes with the square of rate and amplitude: 58 % of it is gone; birds cruise within 0.81 to 1.05 of one rate (Pennycuick 2001).",
    },
    {
      value: 0.6,
      reason:
        "Wings that move less than half as far carry a sixth of the weight; the body ought to drop a wing's length in half a second.",
    },
    { value: 0.9, reason: "The wings all but stop, and the body flies on as if hung up." },
  ],
  layer: "motion",
  places(clean, random) {
    if (isBlocked(clean) || clean.performance.medium === "water") return [];
    const { performance } = clean;
    const places = [];
    for (const { figure, body, limbs, from, to, beat } of runsOfBeats(clean, 2, 4, random)) {
      const joint = carrierOf(performance, body);
      const heights = over(from, to, (frame) => channelAt(performance, joint, "translation.y", frame));
      const sinks = heights[0] - heights[heights.length - 1];
      // A body that sinks may well beat less.
      if (sinks > 0.15 * body.stature) continue;
      const joints = limbs.flatMap((n) => body.limbs[n].joints);
      places.push({
        figure,
        joint: joints[0],
        also: [...joints, joint, ...body.trunk],
        from,
        to,
        limbs,
        beat,
      });
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { figure, from, to, limbs, beat } = /** @type {BeatPlace} */ (place);
    const body = bodyOf(performance, figure);
    const edge = beat / 3;
    for (const joint of limbs.flatMap((n) => body.limbs[n].joints)) {
      for (const channel of turns) {
        const track = performance.tracks.get(`${joint} ${channel}`);
        if (track === undefined) continue;
        const before = track.slice();
        const mean = (/** @type {number} */ frame) => {
          const beside = over(
            frame - beat / 2,
            frame + beat / 2,
            (at) => before[Math.max(0, Math.min(before.length - 1, at - performance.first))],
          );
          return beside.reduce((sum, value) => sum + value, 0) / beside.length;
        };
        for (let frame = Math.ceil(from - edge); frame <= to + edge; frame++) {
          const i = frame - performance.first;
          if (i < 0 || i >= track.length) continue;
          const share = size * within(frame, from - edge, from, to, to + edge);
          track[i] += share * (mean(frame) - before[i]);
        }
      }
    }
  },
  measure(poses, place, twin) {
    const { figure, from, to, limbs, beat } = /** @type {BeatPlace} */ (place);
    const body = bodyOf(poses.performance, figure);
    const half = Math.round(beat / 2);
    // What is left of each wing's way when its mean over a beat is taken off.
    const stroke = (/** @type {Poses} */ shot) => {
      let sum = 0;
      for (const limb of limbs) {
        const way = over(from - half, to + half, (frame) => flapped(shot, body, limb, sampled(shot, frame)));
        for (let i = half; i + half < way.length; i++) {
          const beside = way.slice(i - half, i + half + 1);
          sum += (way[i] - beside.reduce((total, value) => total + value, 0) / beside.length) ** 2;
        }
      }
      return Math.sqrt(sum);
    };
    return Math.max(0, 1 - stroke(poses) / (stroke(twin) || 1));
  },
};

/** @type {FaultKind} */
export const sinkingUnderBeats = {
  name: "sinking under full beats",
  checks: ["beat-mismatch"],
  unit: "statures that the body sinks below its course",
  sizes: [
    {
      value: 0.3,
      reason:
        "A third of the body's length within a few beats that would carry it; less reads as the bob of slow flight.",
    },
    {
      value: 0.6,
      reason:
        "More than half of its length, several times the bob that a down stroke of 115 % of the weight gives (Crandell and Tobalske 2011).",
    },
    { value: 1, reason: "Its whole length: it falls and rises as if on a string while the wings beat on." },
  ],
  layer: "motion",
  places(clean, random) {
    if (isBlocked(clean) || clean.performance.medium === "water") return [];
    const { performance } = clean;
    const places = [];
    for (const { figure, body, limbs, from, to, beat } of runsOfBeats(clean, 3, 6, random)) {
      const joint = carrierOf(performance, body);
      const span = to - from;
      const isFree = !eventsOf(performance, "plant", figure).some(
        (event) => event.from < to + 2 && event.to > from - 2,
      );
      const heights = over(from, to, (frame) => channelAt(performance, joint, "translation.y", frame));
      const room = Math.min(...heights) - performance.ground.height > 2.2 * body.stature;
      if (!isFree || !room || span < at24(performance, 14)) continue;
      const ends = limbs.flatMap((n) => body.limbs[n].joints);
      places.push({ figure, joint, also: [body.root, ...body.trunk, ...ends], from, to, limbs, beat });
    }
    return random.shuffled(places);
  },
  perform(performance, place, size) {
    const { figure, joint, from, to } = place;
    const before = copy(performance);
    const depth = size * bodyOf(performance, figure).stature;
    const middle = from + 0.55 * (to - from);
    addTrack(
      performance,
      joint,
      "translation.y",
      (frame) => -depth * within(frame, from, middle, middle, to),
    );
    keepEnds(performance, before, figure, from, to);
  },
  measure(poses, place, twin) {
    const { figure, joint, from, to } = place;
    const { stature } = bodyOf(poses.performance, figure);
    const sunk = over(from, to, (frame) => twin.position(joint, frame)[1] - poses.position(joint, frame)[1]);
    return Math.max(0, ...sunk) / stature;
  },
};
