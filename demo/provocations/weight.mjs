// @ts-check
/** Slips of weight and support. */
import { eased, onEveryFrame, revalued, valueIn } from "./keying.mjs";
import { posesOf, reaching } from "./limbs.mjs";

/** @typedef {import("./keying.mjs").Shot} Shot */

const sides = /** @type {const} */ (["l", "r"]);

/** @type {import("./older.mjs").Provocation[]} */
export const weight = [
  {
    check: "early-stop",
    shot: "steps_0110_v1",
    node: "hips",
    frames: [45, 50],
    slip: "in the first version the porter stops falling five frames before the left foot lands",
  },
  {
    check: "lift-before-push",
    shot: "jetty_0040_v1",
    node: "body",
    frames: [1049, 1053],
    slip: "in the first version the heron swoops up before its braking beats begin",
  },
  {
    check: "beat-mismatch",
    shot: "jetty_0040_v2",
    node: "body",
    frames: [1050, 1061],
    slip: "the braking beats are keyed half as wide, and the heron slows its fall as before",
    edits: [
      (shot) =>
        sides.flatMap((side) => {
          const wing = `wing_${side}`;
          const spread = valueIn(shot, wing, "rotation.z", 1048);
          return revalued(shot, wing, "rotation.z", 1048, 1064, (value) => spread + 0.45 * (value - spread));
        }),
    ],
  },
  {
    check: "hang-time",
    shot: "quay_0070_v1",
    node: "hips",
    frames: [77, 95],
    slip: "in the first version the jump hangs for six frames too many",
  },
  {
    check: "contact-slide",
    shot: "jetty_0040_v1",
    node: "foot_l",
    frames: [1097, 1107],
    slip: "in the first version the left foot slides on the post while the heron hauls",
  },
  {
    check: "off-ground",
    shot: "quay_0070_v2",
    node: "foot_l",
    frames: [91, 136],
    slip: "after the landing the hips' height is keyed 3 cm too high, and the feet hover with them",
    edits: [(shot) => revalued(shot, "hips", "translation.y", 100, 136, (value) => value + 3)],
  },
  {
    check: "through-ground",
    shot: "steps_0110_v1",
    node: "foot_r",
    frames: [68, 75],
    slip: "in the first version the right foot goes through the ground at the foot of the steps",
  },
  {
    check: "flat-foot",
    shot: "steps_0110_v1",
    node: "foot_l",
    frames: [27, 40],
    slip: "in the first version the left foot leaves the top step in one piece",
  },
  {
    check: "one-axis-roll",
    shot: "quay_0070_v2",
    node: "foot_r",
    frames: [16, 22],
    slip: "the dance begins from a stance 17 cm wider, and the right foot goes on rolling like a hinge",
    edits: [
      (shot) =>
        reaching(shot, "leg", "r", 1, 30, ([x, y, z], frame) => [
          x - 17 * (1 - eased((frame - 22) / 8)),
          y,
          z,
        ]),
    ],
  },
  {
    check: "leg-snap",
    shot: "steps_0110_v1",
    node: "shin_r",
    frames: [66, 66],
    slip: "in the first version the right leg comes to its full length on the way to the ground, and the knee jumps",
  },
  {
    check: "off-balance",
    shot: "quay_0070_v2",
    node: "hips",
    frames: [112, 136],
    slip: "after the landing the hips are pushed out over nothing, 28 cm to the side, and stay there",
    edits: [
      (shot) => [
        ...onEveryFrame(
          shot,
          "hips",
          "translation.x",
          104,
          136,
          (value, frame) => value + 28 * pushed(frame),
        ),
        ...onEveryFrame(shot, "hips", "translation.y", 104, 136, (value, frame) => value - 8 * pushed(frame)),
      ],
      (shot, before) => sides.flatMap((side) => standing(shot, before, "leg", side, 104, 136)),
    ],
  },
  {
    check: "body-tied-to-steps",
    shot: "steps_0110_v2",
    node: "hips",
    frames: [32, 118],
    slip: "on the steps the height of the hips is taken from the feet: halfway between the two, frame by frame",
    edits: [
      (shot) => {
        const at = posesOf(shot);
        const feet = (/** @type {number} */ frame) =>
          at("foot_l", frame).position[1] + at("foot_r", frame).position[1];
        // Ten centimetres lower than they stood, so that both legs reach.
        const start = valueIn(shot, "hips", "translation.y", 1) - 10 - feet(1) / 2;
        return onEveryFrame(
          shot,
          "hips",
          "translation.y",
          1,
          118,
          (_, frame) => start + feet(Math.max(1, Math.min(118, frame))) / 2,
        );
      },
      (shot, before) => sides.flatMap((side) => standing(shot, before, "leg", side, 1, 118)),
      (shot, before) => sides.flatMap((side) => standing(shot, before, "arm", side, 1, 118)),
    ],
  },
];

/** How far the hips are pushed, 0 to 1. @param {number} frame */
const pushed = (frame) => eased((frame - 104) / 14);

/**
 * A foot, or a hand on the crate, that stays where it was while the body has been moved.
 * @param {Shot} shot @param {Shot} before @param {"arm" | "leg"} kind @param {"l" | "r"} side @param {number} from @param {number} to
 */
const standing = (shot, before, kind, side, from, to) =>
  reaching(shot, kind, side, from, to, (place) => place, before);
