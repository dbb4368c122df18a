/**
 * A figure stands wide, shifts its weight from leg to leg and steps with the free one. Each foot peels off from heel to
 * ball and turns outward as it does, since the weight leaves over the inside of the ball.
 */
import { trailing } from "../../../../demo/motion/drag.mjs";
import { footTrack } from "../../../../demo/motion/gait.mjs";
import { moves } from "../../../../demo/motion/moves.mjs";
import { randomFrom } from "../random.mjs";
import { rollingOutward } from "./roll.mjs";
import { biped } from "./stand.mjs";

const from = 1;
/** Frame at which the first foot leaves, frames from one step to the next, and how many steps there are. */
const firstStep = 34;
const period = 36;
const steps = 4;
const inAir = 13;
const to = firstStep + period * (steps - 1) + inAir + 34;

/** @param {number} seed */
export function sideSteps(seed, { rate = 24 } = {}) {
  const random = randomFrom(seed);
  const range = { from, to };
  const starts = random.sign();
  const wide = random.between(24, 27);
  const leaves = Array.from({ length: steps }, (_, k) => firstStep + period * k);
  const plants = { l: [], r: [] };
  for (const [side, x] of [
    ["l", 1],
    ["r", -1],
  ]) {
    let at = [x * wide, 0, 2 * x];
    let since = from;
    let strike = 0;
    leaves.forEach((off, k) => {
      if (starts * (k % 2 === 0 ? 1 : -1) === x) {
        const push = random.between(36, 44);
        plants[side].push(plant({ from: since, to: off, at, yaw: 9 * x, strike, push, heelOff: off - 12 }));
        since = off + inAir;
        strike = random.between(10, 14);
        at = [x * (wide + random.between(-2, 2)), 0, at[2] + random.between(6, 14)];
      }
    });
    plants[side].push(plant({ from: since, to, at, yaw: 9 * x, strike }));
  }
  const tracks = {
    l: rollingOutward(footTrack(plants.l), plants.l, 1, random.between(10, 14)),
    r: rollingOutward(footTrack(plants.r), plants.r, -1, random.between(10, 14)),
  };
  // Over the leg that stays, a little inside of its foot; the last move comes to rest between the two.
  const over = leaves.map((_, k) => -starts * (k % 2 === 0 ? 1 : -1) * (wide - 4));
  const shifts = leaves.map((off, k) => [off - 23, off + 1, over[k] - (over[k - 1] ?? 0)]);
  const ends = to - 30;
  const shift = moves(0, ...shifts, [ends - 6, ends + 20, -over[steps - 1]], [ends + 18, to, 0.3]);
  const sink = moves(
    88,
    [6, 16, -1],
    ...leaves.flatMap((off) => [
      [off - 18, off - 6, -1.6],
      [off - 6, off + 5, 2.2],
      [off + 8, off + 20, -0.6],
    ]),
    [ends, ends + 16, 1.4],
  );
  const ahead = moves(3, ...leaves.map((off) => [off - 4, off + 18, random.between(4, 6)]));
  const look = moves(
    0,
    ...leaves.map((off, k) => [off - 27, off - 12, 0.5 * (over[k] - (over[k - 1] ?? 0))]),
  );
  const late = (of, lag, gain) => trailing(of, { ...range, lag, gain });
  const chest = late(shift, 2.6, 0.25);
  const head = late(look, 2.2, 0.5);
  const bob = late(sink, 2, 1.2);
  const arm = (side, late_, size) => {
    const out = side === "l" ? 1 : -1;
    const raise = (f) => out * size * 0.55 * shift(f - late_) + 18;
    const swing = (f) => 0.35 * size * shift(f - late_ - 2);
    const droop = late(raise, 2.4, 0.6);
    const flick = late(swing, 2.6, 1.2);
    return (f) => ({
      [`shoulder_${side}`]: [0, 0, out * (0.06 * raise(f - 1) - 2)],
      [`upper_arm_${side}`]: [-8 + swing(f), out * 4, out * raise(f)],
      [`forearm_${side}`]: [-26 - 0.3 * raise(f - 2) + flick(f), 0, 0],
      [`hand_${side}`]: [-6 + flick(f - 1), 0, out * (3 + droop(f - 1))],
      [`fingers_${side}`]: [-22 + 0.6 * flick(f - 3) + 0.4 * droop(f - 2), 0, 0],
    });
  };
  const [left, right] = [arm("l", 3, 1), arm("r", 5, 0.7)];
  const angles = (f) => ({
    hips: [4, 0.25 * shift(f), -0.12 * shift(f)],
    spine: [2 + 0.5 * bob(f), 0.1 * look(f - 1), 0.1 * shift(f - 1) + chest(f)],
    chest: [2 + 0.5 * bob(f - 1), 0.25 * look(f - 2), 0.1 * shift(f - 2) + chest(f - 1)],
    neck: [-4 + bob(f - 1), 0.3 * look(f) + head(f), -0.1 * shift(f - 2)],
    head: [-2 + bob(f - 2), 0.6 * look(f) + head(f - 1), -0.08 * shift(f - 3)],
    ...left(f),
    ...right(f),
  });
  return biped({
    name: `side steps ${seed}`,
    rate,
    from,
    to,
    angles,
    massCentre: (f) => [shift(f), sink(f), ahead(f)],
    feet: tracks,
  });
}

const plant = (one) => ({ lift: 6, flat: one.from + 5, ...one });
