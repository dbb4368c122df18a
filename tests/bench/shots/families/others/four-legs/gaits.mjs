// @ts-check
/**
 * Gaits of four legs. Footfall orders: Hildebrand's lateral sequence (left hind, left fore, right hind, right fore at 0,
 * 25, 50, 75 % of the stride) and the trot (diagonal pairs). Stride length: Alexander & Jayes 1983, from memory: 2.4 hip
 * heights times the Froude number to the power 0.34 in a walk, 1.9 and 0.40 in a trot.
 * @import { FourLegStage } from "./stage.mjs"
 */
import { footfalls, stepEvents, wayOf } from "../tools/gait.mjs";

const gravity = 9.80665;
const limbs = { leftHind: 0, rightHind: 1, leftFore: 2, rightFore: 3 };

/** Walk to trot of horses at a Froude number of 0.35 (Griffin, Kram, Wickler & Hoyt 2004). Duty factors from memory:
 * walking animals stand for 60 to 75 % of a stride, less the faster they are; a slow trot for about half of it. */
export const gaits = {
  walk: {
    phases: { leftHind: 0, leftFore: 0.25, rightHind: 0.5, rightFore: 0.75 },
    froude: [0.05, 0.14],
    duty: (/** @type {number} */ froude) => 0.73 - 0.4 * froude,
    stride: (/** @type {number} */ froude) => 2.4 * froude ** 0.34,
    /** Share of free fall at the top of the bob. */
    lightness: 0.16,
    lift: 0.1,
  },
  trot: {
    phases: { leftHind: 0, rightFore: 0.015, rightHind: 0.5, leftFore: 0.515 },
    froude: [0.36, 0.55],
    duty: () => 0.52,
    stride: (/** @type {number} */ froude) => 1.9 * froude ** 0.4,
    lightness: 0.5,
    lift: 0.13,
  },
};

/**
 * Puts a gait onto the stage, from a stand to a stand.
 * @param {FourLegStage} stage
 * @param {"walk" | "trot"} name @param {number} from @param {number} to frames
 */
export function addGait(stage, name, from, to) {
  const { lane, size, rate, first, last, events, id, neutral, random } = stage;
  const gait = gaits[name];
  const own = random.fork(`gait ${from}`);
  const hip = 0.82 * size;
  const froude = own.between(gait.froude[0], gait.froude[1]);
  const speed = Math.sqrt(froude * gravity * hip);
  const duty = gait.duty(froude);
  const strideLength = gait.stride(froude) * hip;
  const stride = (strideLength / speed) * rate;
  const perFrame = speed / rate;
  const rise = stride * own.between(1.15, 1.4);
  const fall = stride * own.between(1.2, 1.5);
  const end = Math.max(from + rise + fall, to - 0.6 * stride);
  const way = wayOf(from, end, rise, fall, perFrame);
  const air = (1 - duty) * stride;
  const mirrored = own.chance(0.5) ? 0.5 : 0;
  const phases = /** @type {Record<string, number>} */ (gait.phases);
  const phaseOf = (/** @type {string} */ leg) => (phases[leg] + mirrored) % 1;
  const round = 2 * Math.PI;
  const falls = footfalls({
    legs: Object.entries(limbs).map(([leg, limb]) => ({ limb, phase: phaseOf(leg), neutral: neutral(limb) })),
    along: way.along,
    stride,
    duty,
    from,
    to: end,
    first,
    last,
    least: 0.02 * size,
    foot: { push: 28, roll: Math.max(2, 0.27 * duty * stride), lift: gait.lift * size, curl: 34 },
  });
  events.push(...stepEvents(id, falls, true, last));
  events.push({
    kind: "gait",
    figure: id,
    name,
    from: Math.round(from),
    to: Math.min(last, Math.round(end)),
  });
  // Waves of the trunk: by the stride's phase, 0 where the left hind foot lands.
  const phase = (/** @type {number} */ frame) => (frame - from - air) / stride - phaseOf("leftHind");
  const wave = (/** @type {number} */ times, /** @type {number} */ at) => (/** @type {number} */ frame) =>
    Math.cos(round * times * (phase(frame) - at)) * way.share(frame);
  const middle = duty / 2;
  const bob = (gait.lightness * gravity) / (2 * round * (rate / stride)) ** 2;
  // A walk vaults over its standing legs; a trot sinks onto them.
  const up = name === "walk" ? 1 : -1;
  const hindBob = wave(2, middle);
  const foreBob = wave(2, middle + (name === "walk" ? 0.25 : 0.015));
  const sink = (name === "walk" ? 0.03 : 0.04) * size;
  lane("pelvis", "ty").add((frame) => up * bob * hindBob(frame) - sink * way.share(frame));
  const lever = (180 / Math.PI) * (bob / stage.reach);
  const nod = (/** @type {number} */ frame) => lever * up * (foreBob(frame) - hindBob(frame));
  lane("pelvis", "x").add((frame) => -0.8 * nod(frame));
  lane("spine_b", "x").add((frame) => -0.2 * nod(frame));
  const big = name === "walk" ? 1 : 0.6;
  const [sway, yaw, roll, side] = [
    0.013 * size * big,
    own.between(2.4, 3.6) * big,
    own.between(1.4, 2.4) * big,
    own.between(2.6, 4) * big,
  ];
  lane("pelvis", "tx").add((frame) => sway * wave(1, middle)(frame));
  lane("pelvis", "y").add((frame) => -yaw * wave(1, 0)(frame));
  lane("pelvis", "z").add((frame) => roll * wave(1, middle)(frame));
  // The trunk bends to the side on which the hind foot is forward, each joint a little behind the one before.
  stage.spine.forEach((joint, n) => {
    lane(joint, "y").add((frame) => (side / 2.2) * wave(1, 0.02 + 0.03 * n)(frame));
    lane(joint, "z").add((frame) => -(roll / 2.6) * wave(1, middle + 0.02 * n)(frame));
  });
  // Neck and head take back what the trunk does, and nod a little late.
  const back = 4 * (side / 2.2) - yaw;
  const nodding = own.between(1.2, 2.2) * (name === "walk" ? 1 : 0.7);
  /** @type {const} */ ([
    ["neck_a", 0.45, 0.03],
    ["neck_b", 0.3, 0.06],
    ["head", 0.2, 0.09],
  ]).forEach(([joint, share, late]) => {
    lane(joint, "y").add((frame) => -back * share * wave(1, 0.07 + late)(frame));
    lane(joint, "x").add(
      (frame) => nod(frame) * share + nodding * share * wave(2, middle + 0.3 + late)(frame),
    );
  });
  // A tail swings with the hips, later towards its tip.
  for (let n = 1; n <= 5; n++) {
    lane(`tail_${n}`, "y").add((frame) => (1.5 + 0.9 * n) * big * wave(1, 0.05 + 0.06 * n)(frame));
    lane(`tail_${n}`, "x").add((frame) => (0.4 + 0.3 * n) * wave(2, middle + 0.05 * n)(frame));
  }
  // Before the first step the weight goes back a little and off the leg that leaves; at the end it comes to rest forward.
  const late = Math.min(14, from - first);
  if (late > 5) {
    const off = mirrored === 0 ? -1 : 1;
    lane("pelvis", "tx").bump(from - late, from + 1, from + stride * 0.6, 0.016 * size * off);
    lane("pelvis", "tz").bump(from - late, from - 1, from + stride * 0.7, -0.012 * size);
  }
  lane("pelvis", "tz").bump(end - fall * 0.5, end, end + stride * 0.6, 0.01 * size);
  return { falls, along: way.along, end, stride, duty, length: way.length };
}
