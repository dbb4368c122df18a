import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import {
  type DocumentOptions,
  degrees,
  eased,
  type Foot,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { oneAxisRoll } from "./check.ts";

/**
 * A lunge to the left: the right foot rolls over its ball from frame 12 to 26, turning outward by so many degrees, and
 * leaves the ground.
 * @param tremble degrees that the sole is tilted beside its roll
 */
export function lunge(
  width: number,
  outward: number,
  options: DocumentOptions = {},
  tremble = (_frame: number) => 0,
): CurveDocument {
  const rise = eased(12, 26, 0, 40);
  const pitch = (frame: number) => rise(frame) + tremble(frame);
  const lift = eased(28, 36, 0, 0.2);
  const right = (frame: number): Foot => {
    const foot = rolled("right", 0, pitch(frame));
    return {
      ...foot,
      at: [-width / 2, foot.at[1] + lift(frame), foot.at[2]],
      yaw: (outward * pitch(frame)) / 40,
    };
  };
  const over = eased(10, 28, 0, 0.15);
  return motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [over(frame), 0.82, 0],
      left: () => standing("left", 0, width / 2),
      right,
    },
    options,
  );
}

export const oneAxisRollExamples = defineExamples(oneAxisRoll, {
  faulty: [
    {
      title: "a foot that rolls like a hinge in a wide stance",
      motion: () => lunge(0.5, 0),
      right: () => lunge(0.5, 12),
      // The foot keeps its tilt until it is 2 cm up.
      note: {
        node: "foot_r",
        frames: [14, 30],
        key: { node: "foot_r", channel: "rotation.x" },
        measured: 0,
      },
    },
    {
      title: "a roll that turns outward by two degrees of forty",
      motion: () => lunge(0.5, 2),
      right: () => lunge(0.5, 12),
      note: {
        node: "foot_r",
        frames: [14, 30],
        key: { node: "foot_r", channel: "rotation.x" },
        // A turn of 2° about the vertical after one of 40° across the foot, as a single turn.
        measured: Math.tan(1 / degrees) / Math.sin(20 / degrees),
      },
    },
  ],
  silent: [
    { title: "a foot that turns outward as it rolls", motion: () => lunge(0.5, 12) },
    { title: "a narrow stance", motion: () => lunge(0.2, 0), unexcused: () => lunge(0.5, 0) },
    { title: "a walk", motion: () => walkDocument() },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "foot_r",
    frames: [16, 22],
    slip: "the dance begins from a stance 17 cm wider, and the right foot goes on rolling like a hinge",
    edits: [
      (shot) =>
        reaching(shot, {
          limb: ["thigh_r", "shin_r", "foot_r"],
          frames: [1, 30],
          to: ([x, y, z], frame) => [x - 17 * (1 - eased(22, 30, 0, 1)(frame)), y, z],
        }),
    ],
  },
  picture: { draws: "figure", seen: "top", at: [12, 28], only: ["foot_r"] },
});
