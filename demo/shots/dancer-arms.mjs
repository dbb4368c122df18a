// @ts-check
/** What the dancer does with the arms. */
import { trailing } from "../motion/drag.mjs";
import { moves } from "../motion/moves.mjs";

/**
 * Arms: anticipation low, out in the turn, behind in the crouch, up in the jump, open after the landing.
 * The right arm leads or trails by some frames and goes less far.
 * @param {number} from @param {number} down @param {number} to @param {import("./dancer.mjs").DancerFaults} faults
 */
export function arms(from, down, to, faults) {
  const range = { from, to };
  /** @type {Record<string, (f: number) => number[]>} */
  const parts = {};
  for (const side of ["l", "r"]) {
    const out = side === "l" ? 1 : -1;
    const leads = side === "l" || faults.twinned === true;
    const late = leads ? 0 : 3;
    const less = leads ? 1 : 0.86;
    const lead = leads ? 0 : 2;
    const raise = moves(
      leads ? 9 : 12,
      [5 + lead, 15 + lead, leads ? 12 : 7],
      [12 + 2 * lead, 28 + 2 * lead, 44 - 6 * lead],
      [38 + lead, 56 + lead, leads ? -50 : -34],
      [66, 78 + lead, 122 - 9 * lead],
      [down - 5, down + 7 + lead, -92 + 8 * lead],
      [down + 9 + late, down + 25 + late, 34 * less],
      [down + 26 + late, to - 1, 5 * less],
    );
    const swing = moves(
      leads ? -4 : 2,
      [4 + lead, 14 + lead, -14],
      [13 + lead, 30 + lead, leads ? 4 : -10],
      [36 + lead, 54 + lead, leads ? 8 : 14],
      [56 + lead, 67 + lead, 34 - 4 * lead],
      [66, 76 + lead, leads ? -42 : -34],
      [down - 4, down + 6 + lead, -8],
      [down + 10 + late, down + 26 + late, leads ? 16 : 2],
    );
    const bend = moves(
      -16 - 3 * lead,
      [7 + lead, 18 + lead, -22],
      [15 + lead, 31 + lead, 14],
      [40 + lead, 57 + lead, -12 - lead],
      [67, 80 + lead, 20],
      [down - 3, down + 8 + lead, -34 - lead],
      [down + 12 + late, down + 29 + late, 24 * less],
      [to - 16, to + 3, -3],
    );
    const still = faults.stillWrist?.[0] === side;
    const whole = (
      /** @type {number} */ lag,
      /** @type {number} */ gain,
      /** @type {import("../motion/moves.mjs").Track} */ of,
    ) => (still ? () => 0 : trailing(of, { ...range, lag, gain }));
    const droop = whole(2.4, 0.8, raise);
    const flick = whole(2, 0.7, bend);
    const roll = whole(2.8, 0.5, swing);
    parts[`shoulder_${side}`] = (f) => [0, out * (2 - 0.06 * swing(f)), out * (0.1 * raise(f) - 2)];
    parts[`upper_arm_${side}`] = (f) => [swing(f), out * (8 + 0.3 * swing(f - 1)), out * 0.9 * raise(f)];
    parts[`forearm_${side}`] = (f) => [bend(f), 0, 0];
    parts[`hand_${side}`] = (f) => [-6 + flick(f) + roll(f), 0, out * (droop(f) + 3)];
  }
  return {
    angles: (/** @type {number} */ f) =>
      Object.fromEntries(Object.entries(parts).map(([id, course]) => [id, course(f)])),
  };
}
