import { defineExamples } from "../../shared/examples/example.ts";
import { revalued } from "../../shared/examples/keying.ts";
import {
  ankleHeight,
  eased,
  halfStance,
  jumpDocument,
  rolled,
  standing,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { offGround } from "./check.ts";
import {
  lifted,
  onTips,
  onToes,
  overUnknownFloor,
  passedInPoses,
  passing,
  posed,
  settling,
  slidingAloft,
  slowSwing,
  stance,
  wandering,
} from "./motions.ts";

export const offGroundExamples = defineExamples(offGround, {
  faulty: [
    {
      title: "a foot that comes to stand 3 cm over the floor",
      motion: stance(lifted(0.03)),
      right: stance(lifted(0)),
      note: {
        node: "foot_l",
        frames: [30, 48],
        key: [
          { node: "shin_l", channel: "rotation.x" },
          { node: "thigh_l", channel: "rotation.x" },
        ],
        measured: 0.03,
      },
    },
    {
      title: "a foot that comes to stand 1.5 cm over the floor, in a shot whose feet stand exactly",
      motion: stance(lifted(0.015)),
      right: stance(lifted(0)),
      // To frame 30 it comes down by 3.5 % of 13.5 cm, more than 0.06 of 1.7 m a second.
      note: {
        node: "foot_l",
        frames: [30, 48],
        key: [
          { node: "shin_l", channel: "rotation.x" },
          { node: "thigh_l", channel: "rotation.x" },
        ],
        measured: 0.015,
      },
    },
    {
      title: "a foot that floats 8 cm over the floor all through, beside one that stands",
      motion: stance(() => ({ at: [halfStance, ankleHeight + 0.08, 0] })),
      right: stance(() => standing("left")),
      note: {
        node: "foot_l",
        frames: [1, 48],
        key: { node: "thigh_l", channel: "rotation.x" },
        measured: 0.08,
      },
    },
    {
      title: "a foot that floats 1.5 cm all through, beside one that stands exactly",
      motion: stance(() => ({ at: [halfStance, ankleHeight + 0.015, 0] })),
      right: stance(() => standing("left")),
      note: {
        node: "foot_l",
        frames: [1, 48],
        key: [
          { node: "shin_l", channel: "rotation.x" },
          { node: "thigh_l", channel: "rotation.x" },
        ],
        measured: 0.015,
      },
    },
    {
      title: "a foot over which the body passes while it floats with its toes down",
      motion: passing(0.04),
      right: passing(0),
      note: {
        node: "foot_l",
        frames: [1, 48],
        key: { node: "thigh_l", channel: "rotation.x" },
        measured: 0.04,
      },
    },
    {
      title: "a foot that is up for two of the poses in which it stands",
      motion: posed(0.035, [21, 31]),
      right: posed(0, []),
      note: {
        node: "foot_l",
        frames: [21, 40],
        key: { node: "shin_l", channel: "rotation.x" },
        measured: 0.035,
      },
    },
    {
      title: "a foot that is up for two poses over a floor that only the feet tell",
      motion: overUnknownFloor(0.035),
      right: overUnknownFloor(0),
      note: {
        node: "foot_l",
        frames: [21, 40],
        key: { node: "shin_l", channel: "rotation.x" },
        measured: 0.035,
      },
    },
    {
      title: "a foot that hangs in its place for two poses while the body goes on over it",
      motion: passedInPoses(0.04),
      right: passedInPoses(0),
      note: {
        node: "foot_l",
        frames: [11, 30],
        key: [
          { node: "thigh_l", channel: "rotation.x" },
          { node: "shin_l", channel: "rotation.x" },
        ],
        measured: 0.04,
      },
    },
    {
      title: "the tip of a leg, of which no sole tells how it is tilted, 3 cm over the floor",
      motion: onTips(0.03),
      right: onTips(0),
      note: {
        node: "fore_l_tip",
        frames: [30, 48],
        key: [
          { node: "fore_l", channel: "rotation.x" },
          { node: "fore_l_shin", channel: "rotation.x" },
        ],
        measured: 0.03,
      },
    },
    {
      title: "the tip of a leg that is kept level, over a floor that lies 2 mm higher than its legs stand",
      motion: onTips(0.03, 0.002),
      right: onTips(0, 0.002),
      note: {
        node: "fore_l_tip",
        frames: [30, 48],
        key: [
          { node: "fore_l", channel: "rotation.x" },
          { node: "fore_l_shin", channel: "rotation.x" },
        ],
        measured: 0.028,
      },
    },
    {
      title: "a foot that alone bears a walk, 6 cm over the floor, and slides there",
      motion: slidingAloft(0.1),
      right: slidingAloft(0.1, 0),
      // It lies flat from 0.3 of a step of twelve frames before it is under the hips to 0.35 after that, frame 29.
      note: {
        node: "foot_l",
        frames: [21, 30],
        key: { node: "hips", channel: "translation.y" },
        measured: 0.06,
      },
    },
  ],
  silent: [
    { title: "feet that stand", motion: stance(() => standing("left")) },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "a foot that still comes down as the shot ends",
      motion: settling(0),
      unexcused: settling(0.03),
    },
    {
      title: "a foot that rolls onto its ball",
      motion: stance((frame) => rolled("left", 0, eased(12, 24, 0, 40)(frame))),
    },
    {
      title: "a foot that rolls back onto its heel, with its toes up",
      motion: stance((frame) => rolled("left", 0, -eased(12, 24, 0, 35)(frame))),
    },
    {
      title: "a foot without a joint at its ball that stands on its toes",
      motion: onToes(0.05, 20),
      unexcused: onToes(0.05, 0),
    },
    {
      title: "a foot that is lifted while the other one carries",
      motion: stance((frame) => ({
        at: [halfStance, ankleHeight + eased(16, 22, 0, 0.15)(frame), 0],
      })),
    },
    {
      title: "a foot that swings slowly, low and flat, beside one that stands",
      motion: slowSwing(false),
      unexcused: slowSwing(true),
    },
    {
      title: "a foot that hangs 8 cm over the floor with its toes down, beside one that stands",
      motion: stance(() => ({ at: [halfStance, ankleHeight + 0.16, 0], pitch: 30 })),
    },
    {
      title: "a foot that is lifted for one pose of step keys",
      motion: posed(0.035, [21]),
      unexcused: posed(0.035, [21, 31]),
    },
    {
      title: "soft ground, where the tolerance is raised",
      motion: stance(lifted(0.03)),
      config: { checks: { "off-ground": { values: { gap: { value: 0.02, unit: "H" } } } } },
    },
    { title: "a gap within the tolerance", motion: stance(lifted(0.008)) },
    {
      title: "a gap of 1.5 cm beside a foot that wanders as far over its level, as captured ones do",
      motion: wandering(0.015),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "foot_l",
    frames: [91, 136],
    slip: "after the landing the hips' height is keyed 3 cm too high, and the feet hover with them",
    edits: [(shot) => revalued(shot, "hips", "translation.y", 100, 136, (value) => value + 3)],
  },
  picture: { draws: "figure", seen: "side", at: [40], only: ["shin_l"] },
});
