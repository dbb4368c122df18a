import { inRadians, referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { carriedPath } from "../../motion/path/carried.ts";
import { isChainStepped } from "../../motion/path/held.ts";
import { restTurnOf } from "../../motion/path/moves.ts";
import { ownTurnPaceOf } from "../../motion/path/pace.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { strayOf } from "../shared/spread.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface LateStops extends Held {
  /** Samples at which upper bone, lower bone and end come to rest. */
  readonly stops: readonly [number, number, number];
  readonly limb: readonly [number, number, number];
}

/** Least turns of the three joints in their last swing. */
const leastTurns = [inRadians(20), inRadians(10), inRadians(5)] as const;
/** Share of its fastest step under which a swing has begun. */
const swingOver = 0.3;
/** By how much each stops after the one before, frames at 24 per second. */
const leastLate = 1;
const mostLate = 8;

/** Arms that stop one joint after another. */
export const lateStops = defineStrength<LateStops>({
  name: "late-stops",
  title: "Overlapping stop",
  what: "An arm comes to rest joint by joint: the upper arm first, the hand last.",
  computes:
    "The last swing before a rest reaches back to where the joint turns at less than 30 % of its fastest. In it the shoulder joint turns by 20° or more against what carries it, the elbow by 10°, the wrist by 5°. Each comes to rest (under 0.25° a frame at 24 per second) 1 to 8 frames (at 24 per second) after the one before and stays at rest.",
  canFail: "Each joint has keys of its own; posed all at once they stop on the same frame.",
  sources: [
    "1 to 8 frames: common practice of overlapping action, what is seen and still belongs to the same stop",
    "Fradet et al. 2004: the order is no law of bodies, so that its absence is no fault",
  ],
  hangsOn: ["body"],
  find(study, figure) {
    const { rate } = gridOf(study);
    const frames = (samples: number) => (samples * referenceRate) / rate;
    const found: LateStops[] = [];
    for (const { kind, root, middle, end } of limbsOf(study, figure)) {
      if (kind !== "arm" || rigOf(study).parent[root] < 0 || isChainStepped(study, end)) continue;
      const carried = carriedPath(worldOf(study, end).position, worldOf(study, rigOf(study).parent[root]));
      const strokes = [root, middle, end].map((node) => lastStrokes(study, node));
      for (const upper of strokes[0]) {
        if (upper.turn < leastTurns[0]) continue;
        const follow = (own: (typeof strokes)[0], least: number, after: number) =>
          own.find(
            ({ turn, peak, stop }) =>
              turn >= least &&
              peak < upper.stop &&
              frames(stop - after) >= leastLate &&
              frames(stop - after) <= mostLate,
          );
        const lower = follow(strokes[1], leastTurns[1], upper.stop);
        const last = lower && follow(strokes[2], leastTurns[2], lower.stop);
        if (lower === undefined || last === undefined) continue;
        if (![upper, lower].every(({ rests }) => rests(last.stop))) continue;
        const from = Math.min(upper.peak, lower.peak, last.peak);
        found.push({
          node: end,
          nodes: [end, middle, root],
          from,
          to: last.stop,
          measured: {
            quantity: "from the upper arm's stop to the hand's",
            value: last.stop - upper.stop,
            unit: "frames",
          },
          within: {
            min: (2 * leastLate * rate) / referenceRate,
            max: (2 * mostLate * rate) / referenceRate,
            unit: "frames",
            source: "common practice of overlapping action",
          },
          size: 2 * strayOf(carried, from, last.stop),
          stops: [upper.stop, lower.stop, last.stop],
          limb: [root, middle, end],
        });
      }
    }
    return found;
  },
  word: ({ stops, limb }, words) =>
    `the arm stops joint by joint: ${words.name(limb[0])} at frame ${words.frame(stops[0])}, ${words.name(limb[1])} at ${words.frame(stops[1])}, ${words.name(limb[2])} at ${words.frame(stops[2])}`,
});

/** How a joint comes to rest: its last swing before it. */
interface Stroke {
  /** Sample at whose step it turns fastest in that swing, and the first one at rest. */
  readonly peak: number;
  readonly stop: number;
  /** All that it turns in that swing, radians. */
  readonly turn: number;
  /** Whether it goes on resting up to a sample. */
  rests(to: number): boolean;
}

/** Where a joint's turning against its parent comes to rest, each with the last swing before. */
function lastStrokes(study: Study, node: number): Stroke[] {
  const pace = ownTurnPaceOf(study, node);
  if (pace === null) return [];
  const { steps, moves } = pace;
  return moves.flatMap(({ from, to, endsAtRest }) => {
    if (!endsAtRest) return [];
    let peak = to;
    let turn = 0;
    for (let i = to; i > from && steps[i] >= swingOver * steps[peak]; i--) {
      turn += steps[i];
      if (steps[i] > steps[peak]) peak = i;
    }
    const rest = restTurnOf(study);
    const rests = (last: number) => !steps.subarray(to + 1, last + 1).some((step) => step >= rest);
    return [{ peak, stop: to, turn, rests }];
  });
}
