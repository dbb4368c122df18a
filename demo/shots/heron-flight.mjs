// @ts-check
/** How the heron flies: the beat of its wings, and the way of its body. */
import { moves, pathThrough, sum, wave } from "../motion/moves.mjs";
import { from, post, rate, touch } from "./heron-rig.mjs";

/**
 * The beat: three strokes on the way in, a glide, three braking strokes, then the fold, one wing after the other.
 * @param {import("./heron.mjs").HeronFaults} faults
 */
export function wingBeats(faults) {
  const wait = faults.lateBeats ? 5 : 0;
  const perBeat = 10;
  const phase = (/** @type {number} */ f) => ((f - 1002) / perBeat) * 2 * Math.PI;
  const brake = (/** @type {number} */ f) => ((f - 1049 - wait) / 8) * 2 * Math.PI;
  const cruise = moves(34, [1026, 1036, -34]);
  const braking = moves(0, [1047 + wait, 1053 + wait, 42], [1061 + wait, touch + 3 + wait, -42]);
  const stroke = sum(wave(cruise, phase), wave(braking, brake));
  const parts = (/** @type {number} */ f, /** @type {string} */ side) => {
    const out = side === "l" ? 1 : -1;
    const late = side === "l" ? 0 : 2.5;
    const fold = moves(
      0,
      [touch + 5 + late, touch + 18 + late, 1],
      [touch + 24, touch + 34, -0.04],
      [1096, 1110, 0.1],
      [1108, 1122, -0.05],
    );
    const spread = 1 - fold(f);
    const beat = stroke(f);
    const tipBeat = stroke(f - 1.6);
    const twist = stroke(f + perBeat / 4) * 0.35;
    const glide = 5 + (side === "l" ? 0 : 1.5) + moves(0, [1034, 1042, 7], [1043, 1050, -4])(f);
    return {
      [`wing_${side}`]: [
        twist * spread - 6 * fold(f),
        out * (8 * spread + 62 * fold(f) - 0.2 * braking(f)),
        out * ((beat + glide) * spread - 30 * fold(f)),
      ],
      [`wing_mid_${side}`]: [
        0,
        out * (-10 - 112 * fold(f - 1) - 0.25 * (beat - tipBeat)),
        out * ((0.42 * stroke(f - 1) - 4) * spread),
      ],
      [`wing_tip_${side}`]: [
        0,
        out * (6 + 118 * fold(f - 2)),
        out * ((0.5 * tipBeat - 2) * (1 - fold(f - 2))),
      ],
    };
  };
  return { angles: (/** @type {number} */ f) => ({ ...parts(f, "l"), ...parts(f, "r") }) };
}

/**
 * The body's way: in at 5.2 m/s, the rise and fall of the beat, a glide down, the swoop, and the give of the legs.
 * @param {import("./heron.mjs").HeronFaults} faults
 */
export function flightPath(faults) {
  const stand = post + 34;
  const along = pathThrough(rate, [
    { frame: from, at: -748, speed: 330 },
    { frame: 1036, at: -258, speed: 318 },
    { frame: 1050, at: -92, speed: 235, acceleration: -420 },
    { frame: touch, at: -5, speed: 52, acceleration: -120 },
    { frame: touch + 9, at: 4.5, speed: 0 },
    { frame: touch + 20, at: 1, speed: 0 },
  ]);
  const height = pathThrough(rate, [
    { frame: from, at: post + 128, speed: -26 },
    { frame: 1036, at: post + 86, speed: -52 },
    { frame: 1048, at: post + 50, speed: -66, acceleration: 60 },
    { frame: 1060, at: post + 52, speed: 40, acceleration: -260 },
    { frame: touch, at: post + 41.5, speed: -92, acceleration: -300 },
    ...(faults.stiffLegs
      ? [
          { frame: touch + 1, at: post + 40.4, speed: 0 },
          { frame: touch + 20, at: post + 40, speed: 0 },
        ]
      : [
          { frame: touch + 6, at: stand - 8, speed: 0, acceleration: 420 },
          { frame: touch + 15, at: stand + 4.6, speed: 0 },
          { frame: touch + 24, at: stand + 3.6, speed: 0 },
        ]),
  ]);
  const heave = wave(moves(3.4, [1026, 1036, -3.4]), (f) => ((f - 1002) / 10) * 2 * Math.PI + Math.PI / 2);
  const still = faults.stiffLegs ? 2.4 : 0;
  const crouch = moves(0, [1085, 1095, -5.5 - still], [1097, 1112, 4.2], [1111, 1122, -0.4]);
  const back = moves(0, [1085, 1096, 3], [1097, 1113, -8.5], [1111, 1122, 0.7]);
  const drift = moves(14, [1003, 1034, -16], [1032, touch, 2], [1086, 1098, 1.2], [1098, 1114, -2.4]);
  return (/** @type {number} */ f) => [drift(f), height(f) + heave(f) + crouch(f), along(f) + back(f)];
}
