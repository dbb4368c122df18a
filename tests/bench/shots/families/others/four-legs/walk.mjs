// @ts-check
/**
 * Four legs that stand, look, walk or trot along a bend, stop and look round.
 * @import { Random } from "../../../types.d.ts"
 */
import { addGait } from "./gaits.mjs";
import { fourLegStage, holdHead, turnHead } from "./stage.mjs";

/** @param {"walk" | "trot"} gait @param {readonly ("dog" | "cat" | "horse")[]} builds */
const going = (gait, builds) => (/** @type {Random} */ random, /** @type {number} */ frames) => {
  const stage = fourLegStage(random, frames, {
    builds,
    turned: gait === "walk" ? 45 : 25,
    seconds: (build) => (build === "horse" ? 4 : 2.8),
  });
  const { first, last, rate } = stage;
  const from = first + Math.round(Math.min(rate * random.between(0.6, 1.1), frames * 0.15));
  const rest = Math.min(rate * random.between(1.2, 2), frames * 0.25);
  const walked = addGait(stage, gait, from, last - rest);
  const stop = Math.round(walked.end + 2);
  // Before it goes: a glance where it will go.
  const glance = random.between(8, 16) * random.pick([-1, 1]);
  turnHead(stage, first + 2, Math.max(6, from - first - 1), glance, random.between(-3, 1), "glance");
  turnHead(stage, from + 4, 14, -glance, 0, "turn of the head");
  lookRound(stage, stop, random);
  return stage.made(stage.score(walked));
};

/** Looks to one side, holds, and perhaps back. @param {any} stage @param {number} from @param {Random} random */
export function lookRound(stage, from, random) {
  const { last, rate } = stage;
  const way = random.pick([-1, 1]);
  const yaw = way * random.between(32, 60);
  // Turns of the head at up to about 104 degrees per second (daily life of people, Cho et al. 2025: animals turn alike).
  const frames = Math.round(Math.max(0.42, Math.abs(yaw) / 85) * rate);
  if (from + frames + 4 > last) return;
  turnHead(stage, from, frames, yaw, random.between(-8, 2), "look round");
  const hold = Math.round(rate * random.between(0.5, 0.9));
  const next = from + frames + 4 + hold;
  holdHead(stage, from + frames + 4, Math.min(next, last));
  if (next + frames * 1.3 + 4 > last) return;
  const over = Math.round(frames * 1.2);
  turnHead(stage, next, over, -yaw * random.between(1.1, 1.7), random.between(-2, 6), "look round");
  holdHead(stage, next + over + 4, last);
}

export const walkOfFourLegs = going("walk", ["dog", "dog", "cat", "horse"]);
export const trotOfFourLegs = going("trot", ["dog", "horse"]);
