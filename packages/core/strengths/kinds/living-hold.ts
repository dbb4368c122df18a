import { referenceRate } from "../../base/constants.ts";
import type { Study } from "../../base/study.ts";
import { isChainStepped } from "../../motion/path/held.ts";
import { restFloorOf } from "../../motion/path/moves.ts";
import { spacingOf } from "../../motion/path/spacing.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { runsWhere } from "../../time/span.ts";
import { samplesOf } from "../shared/frames.ts";
import { lengthAlong, strayOf } from "../shared/spread.ts";
import { defineStrength, type Held } from "../strength.ts";

/** With numbers in working units. */
interface LivingHold extends Held {
  readonly spread: number;
}

/** Shortest hold that is told, frames at 24 per second. */
const shortest = 20;
/** Frames (at 24 per second) at both ends in which the hold eases in and out; it has to live between them. */
const easing = 4;
/** Travel per frame (at 24 per second) from which a part is not frozen, body heights; as in `frozen-hold`. */
const alive = 0.0001;
/** Frames in a row (at 24 per second) for which everything may be frozen: one less than `frozen-hold` notes. */
const longestFreeze = 4;
/** How widely the liveliest part moves, body heights: from 5 mm to 7 cm of a grown person. */
const leastSpread = 0.003;
const mostSpread = 0.04;
/** Its way is so many times as long at most: it drifts or breathes, and does not tremble. */
const mostWays = 5;

/** Moving holds that live. */
export const livingHold = defineStrength<LivingHold>({
  name: "living-hold",
  title: "Hold that lives",
  what: "A held pose goes on moving a little: it drifts or breathes, and neither freezes nor trembles.",
  computes:
    "Hips, chest, head and hands all stay under 0.0015 body heights a frame (at 24 per second) for 20 frames or more, after a move or before one. The first and last 4 frames, in which it eases, are left out. Never for more than 4 frames is all of it under 0.0001. The liveliest of them strays from its mean place by 0.0015 to 0.02 body heights, and goes no more than ten times as far on its way.",
  canFail: "A hold without keys in it is frozen; one that is too loose trembles or wanders into a move.",
  sources: [
    "20 frames, 4 of them an ease at either end: common practice, a pose of half a second that is held to be read",
    "0.0001 body heights and 4 frames: what frozen-hold takes for a freeze",
    "0.003 to 0.04 body heights across: common practice, what is seen to live and is still one pose",
    "A way of five times that: common practice, to and fro a few times at most",
  ],
  hangsOn: ["body"],
  find(study, index) {
    const figure = figuresOf(study)[index];
    const parts = (["chest", "head", "leftHand", "rightHand"] as const).flatMap(
      (part) => figure.parts.get(part)?.[0] ?? [],
    );
    if (parts.length < 2) return [];
    const nodes = [...new Set([carrierOf(figure), ...parts])];
    if (nodes.some((node) => isChainStepped(study, node))) return [];
    const { count, rate } = gridOf(study);
    const stature = statureOf(study, index);
    const floor = (alive * stature * referenceRate) / rate;
    const steps = nodes.map((node) => spacingOf(study, node));
    const rests = nodes.map((node) => restFloorOf(study, node));
    const isHeld = (i: number) => steps.every((step, k) => step[i] < rests[k]);
    const isFrozen = (i: number) => steps.every((step) => step[i] < floor);
    const found: LivingHold[] = [];
    for (const run of runsWhere(count, (i) => i > 0 && isHeld(i))) {
      // A shot in which nothing ever moves holds no pose.
      if (run.to - run.from + 2 < samplesOf(study, shortest) || (run.from === 1 && run.to === count - 1))
        continue;
      const ease = samplesOf(study, easing);
      const [from, to] = [
        run.from === 1 ? 0 : run.from - 1 + ease,
        run.to === count - 1 ? run.to : run.to - ease,
      ];
      const freezes = runsWhere(to + 1, (i) => i > from && isFrozen(i));
      if (freezes.some((freeze) => freeze.to - freeze.from + 1 > samplesOf(study, longestFreeze))) continue;
      const one = livelyOf(study, nodes, stature, from, to);
      if (one !== null) found.push(one);
    }
    return found;
  },
  word: ({ from, to, spread }, words) =>
    `the pose is held and lives: ${words.part} moves within ${words.length(spread)}, ${words.counted(from, to)}`,
});

function livelyOf(
  study: Study,
  nodes: readonly number[],
  stature: number,
  from: number,
  to: number,
): LivingHold | null {
  const travels = nodes.map((node) => lengthAlong(worldOf(study, node).position, from, to));
  const travel = Math.max(...travels);
  const node = nodes[travels.indexOf(travel)];
  const spread = 2 * strayOf(worldOf(study, node).position, from, to);
  if (spread < leastSpread * stature || spread > mostSpread * stature || travel > mostWays * spread)
    return null;
  return {
    node,
    from,
    to,
    measured: { quantity: "spread of the liveliest part", value: spread, unit: "m" },
    within: {
      min: leastSpread * stature,
      max: mostSpread * stature,
      unit: "m",
      source: "common practice: a hold that is seen to live, and is still one pose",
    },
    // A pose that is read: a tenth of the figure's height, whatever it drifts by.
    size: 0.1 * stature,
    spread,
  };
}
