/** A figure stands, walks four steps on level ground with a roll from heel to toe, and stands. */
import { trailing } from "../../../../demo/motion/drag.mjs";
import { moves } from "../../../../demo/motion/moves.mjs";
import { biped } from "./stand.mjs";

const from = 1;
const to = 108;
/** Frames at which the feet land, left first. */
const landings = [30, 44, 58, 72, 86];
const stride = 58;

export function walk() {
  const range = { from, to };
  const foot = (/** @type {number} */ x, /** @type {number} */ step) => [x, 0, step * stride];
  const roll = { strike: -15, push: 34, lift: 7 };
  const feet = {
    l: [
      { from, to: 18, at: foot(8.5, 0), yaw: 6, ...roll, strike: 0, heelOff: 10 },
      { from: 30, to: 47, at: foot(8, 1), yaw: 6, ...roll, flat: 34, heelOff: 39 },
      { from: 58, to: 75, at: foot(8, 3), yaw: 6, ...roll, flat: 62, heelOff: 67 },
      { from: 86, to, at: foot(9, 4), yaw: 8, ...roll, strike: -8, flat: 90 },
    ],
    r: [
      { from, to: 33, at: foot(-8.5, 0), yaw: -6, ...roll, strike: 0, heelOff: 25 },
      { from: 44, to: 61, at: foot(-8, 2), yaw: -6, ...roll, flat: 48, heelOff: 53 },
      { from: 72, to, at: foot(-8.5, 4), yaw: -6, ...roll, flat: 76 },
    ],
  };
  const steps = landings.slice(0, 4).map((f) => [f - 14, f + 14]);
  const forward = moves(0, ...steps.map(([a, b]) => [a, b, stride]), [96, to, 0.4]);
  const height = moves(
    95.4,
    [8, 30, -2.2],
    ...landings.slice(0, 4).flatMap((f) => [
      [f + 2, f + 8, 2.6],
      [f + 9, f + 15, -2.6],
    ]),
    [86, 100, 2],
  );
  const sway = moves(0, [8, 20, -4], [26, 38, 7], [40, 52, -7], [54, 66, 7], [68, 80, -6], [82, 98, 3]);
  const turns = (/** @type {number} */ by) =>
    moves(
      0,
      [16, 30, -by],
      [31, 44, 2 * by],
      [45, 58, -2 * by],
      [59, 72, 2 * by],
      [73, 90, -by],
      [92, to, 0.4],
    );
  const yaw = turns(5);
  const rollHips = turns(-3);
  const late = (
    /** @type {(f: number) => number} */ of,
    /** @type {number} */ lag,
    /** @type {number} */ gain,
  ) => trailing(of, { ...range, lag, gain });
  const chest = (/** @type {number} */ f) => -1.7 * yaw(f - 1);
  const bob = late(height, 2, 0.5);
  const swing = turns(24);
  const drop = late(swing, 2.2, 0.5);
  const flick = late(swing, 3, 0.45);
  const angles = (/** @type {number} */ f) => ({
    hips: [3, yaw(f), rollHips(f)],
    spine: [1.5 + 0.2 * bob(f), 0.5 * chest(f), -0.5 * rollHips(f - 1)],
    chest: [1 + 0.3 * bob(f - 1), 0.5 * chest(f - 1), -0.5 * rollHips(f - 2)],
    neck: [-3 + 0.3 * bob(f - 2), 0.3 * yaw(f - 1), 0.2 * rollHips(f - 3)],
    head: [-2 + 0.5 * bob(f - 3), 0.4 * yaw(f - 2), 0.2 * rollHips(f - 3)],
    upper_arm_l: [4 - swing(f), 4, 7 + 0.06 * swing(f - 2)],
    forearm_l: [-16 - 0.45 * Math.abs(swing(f - 2)) - drop(f), 0, 0],
    hand_l: [-4 + flick(f), 0, 3 + 0.3 * flick(f - 1)],
    fingers_l: [-22 + 0.4 * flick(f - 2), 0, 0],
    upper_arm_r: [2 + 0.92 * swing(f - 1), -4, -8 - 0.05 * swing(f - 3)],
    forearm_r: [-19 - 0.4 * Math.abs(swing(f - 3)) + 0.9 * drop(f - 1), 0, 0],
    hand_r: [-6 - 0.9 * flick(f - 1), 0, -3 + 0.3 * flick(f - 2)],
    fingers_r: [-25 - 0.4 * flick(f - 3), 0, 0],
  });
  return biped({
    name: "walk",
    rate: 24,
    from,
    to,
    angles,
    massCentre: (f) => [sway(f), height(f), forward(f)],
    feet,
  });
}
