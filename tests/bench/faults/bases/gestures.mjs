/** Figures that stand and gesture: arms that rise and fall one after the other, looks, turns of the trunk, rests. */
import { trailing } from "../../../../demo/motion/drag.mjs";
import { moves } from "../../../../demo/motion/moves.mjs";
import { randomFrom } from "../random.mjs";
import { plait } from "./jump.mjs";
import { biped, standing } from "./stand.mjs";

const from = 1;

/**
 * A gesture of an arm and back: each joint starts after the one before it, and comes back on another way.
 * @returns {(f: number) => Record<string, number[]>}
 */
function arm(side, range, beats, random) {
  const out = side === "l" ? 1 : -1;
  const lists = { raise: [], swing: [], bend: [], twist: [] };
  for (const [start, span, rest] of beats) {
    const raise = random.between(35, 80);
    const swing = random.between(-55, -15);
    const bend = random.between(-60, -20);
    const twist = random.between(-20, 20);
    const back = start + span + rest;
    const stay = back - start - span;
    lists.raise.push([start, start + span, raise], [back, back + span + 2, -raise]);
    lists.swing.push([start + 2, start + span + 3, swing], [back - 3, back + span - 2, -swing]);
    lists.bend.push([start + 2, start + span + 3, bend], [back + 2, back + span + 5, -bend]);
    lists.twist.push([start - 1, start + span - 2, twist], [back + 1, back + span + 3, -twist]);
    // A moving hold: the pose goes on by a degree or so.
    if (stay > 8) lists.bend.push([start + span + 4, back, -1.2], [back + 2, back + span, 1.2]);
  }
  const [raise, swing, bend, twist] = Object.values(lists).map((list) => moves(0, ...list));
  const late = (of, lag, gain) => trailing(of, { ...range, lag, gain });
  const droop = late(raise, 2.4, 0.6);
  const flick = late(bend, 2.2, 0.6);
  return (f) => ({
    [`shoulder_${side}`]: [0, out * 2, out * (0.1 * raise(f - 1) - 2)],
    [`upper_arm_${side}`]: [swing(f), out * (6 + twist(f)), out * (8 + raise(f))],
    [`forearm_${side}`]: [bend(f) - 14, 0, 0],
    [`hand_${side}`]: [-6 + flick(f), 0, out * (2 + droop(f))],
    [`fingers_${side}`]: [-24 + 0.5 * flick(f - 2) + 0.2 * bend(f - 3), 0, 0],
  });
}

/** @param {number} seed */
export function gestures(seed, { rate = 24, to = 150, hair = true } = {}) {
  const random = randomFrom(seed);
  const range = { from, to };
  const left = arm(
    "l",
    range,
    [
      [random.whole(10, 14), random.whole(12, 15), random.whole(10, 14)],
      [74, random.whole(11, 14), 12],
    ],
    random,
  );
  const right = arm("r", range, [[random.whole(30, 36), random.whole(12, 15), random.whole(12, 16)]], random);
  const look = random.between(24, 38) * random.sign();
  const turn = moves(0, [8, 24, look], [52, 70, -1.6 * look], [96, 114, 0.6 * look]);
  const chest = trailing(turn, { ...range, lag: 2.6, gain: 0.6 });
  const headLead = trailing(turn, { ...range, lag: 2, gain: -0.5 });
  const shift = moves(0, [9, 27, 0.1 * look], [53, 73, -0.15 * look], [97, 118, 0.05 * look]);
  const sink = moves(
    96.5,
    [8, 16, -0.9],
    [16, 28, 0.9],
    [52, 60, -1.1],
    [61, 74, 1.2],
    [96, 104, -0.8],
    [105, 118, 0.7],
  );
  const nod = moves(0, [20, 32, random.between(5, 9)], [50, 62, -9], [90, 104, 4]);
  const angles = (f) => ({
    hips: [1.5, 0.3 * turn(f), 0.35 * shift(f)],
    spine: [1 + 0.2 * nod(f + 1), 0.2 * turn(f - 1) + 0.5 * chest(f), -0.3 * shift(f - 1)],
    chest: [1, 0.25 * turn(f - 2) + 0.5 * chest(f - 1), -0.2 * shift(f - 2)],
    neck: [0.4 * nod(f) - 1, 0.25 * turn(f) + 0.6 * headLead(f), 0.1 * shift(f - 2)],
    head: [nod(f), 0.35 * turn(f) + 0.6 * headLead(f - 1), 0.1 * shift(f - 3)],
    ...left(f),
    ...right(f),
  });
  return biped(
    {
      name: `gestures ${seed}`,
      rate,
      from,
      to,
      hair,
      angles,
      massCentre: (f) => [shift(f), sink(f), 3 + 0.1 * nod(f)],
      feet: standing(from, to),
    },
    hair ? (nodes, curves) => plait(nodes, curves, { from, to, rate: 24 }) : undefined,
  );
}
