import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import { placesIn, reaching } from "../../shared/examples/limbs.ts";
import {
  jumpDocument,
  type Motion,
  motionDocument,
  type WalkOptions,
  walk,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { bodyTiedToSteps } from "./check.ts";

/** A walk whose hips take half of their feet's rise and fall, so many frames later. */
const copying =
  (delay: number, options: WalkOptions = {}) =>
  (): CurveDocument => {
    const motion = walk(options);
    const feet = (frame: number) => motion.left(frame - delay).at[1] + motion.right(frame - delay).at[1];
    const hips: Motion["hips"] = (frame) => {
      const [x, , z] = motion.hips(frame);
      return [x, 0.8 + 0.3 * feet(frame), z];
    };
    return motionDocument({ ...motion, hips });
  };

/** A walk whose hips bob on their own, down so many frames after each contact, by a course that is not the feet's. */
const bobbing = (delay: number) => (): CurveDocument => {
  const motion = walk({ stepFrames: 12 });
  const hips: Motion["hips"] = (frame) => {
    const [x, , z] = motion.hips(frame);
    // Down quickly and up slowly: the phase runs ahead and waits.
    const phase = (2 * Math.PI * (frame - 1 - delay)) / 12;
    return [x, 0.84 - 0.012 * Math.cos(phase - 0.6 * Math.sin(phase)), z];
  };
  return motionDocument({ ...motion, hips });
};

const height = { node: "hips", channel: "translation.y" } as const;

export const bodyTiedToStepsExamples = defineExamples(bodyTiedToSteps, {
  faulty: [
    {
      title: "hips that rise and fall with the feet, frame by frame",
      motion: copying(0),
      right: copying(2),
      note: { node: "hips", frames: [1, 73], key: height, measured: 0 },
    },
    {
      title: "the same in a slow walk",
      motion: copying(0, { stepFrames: 16 }),
      right: copying(2, { stepFrames: 16 }),
      note: { node: "hips", frames: [1, 97], key: height, measured: 0 },
    },
    {
      title: "hips that bob on their own, down on every contact",
      motion: bobbing(4.5),
      right: bobbing(6.5),
      // Feet are down every twelve frames from frame 6 on; they come down half a frame before, on the mean, and the hips
      // with them: their lows lie between frames 5 and 6, and so on.
      note: { node: "hips", frames: [5, 66], key: height, measured: 0 },
    },
  ],
  silent: [
    { title: "hips that bob on their own, two frames after the contacts", motion: bobbing(6.5) },
    { title: "hips that come a frame and a half after the feet", motion: () => walkDocument() },
    {
      title: "fewer than four steps",
      motion: () => walkDocument({ delay: 0, steps: 2 }),
      unexcused: () => walkDocument({ delay: 0 }),
    },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "hips that hardly rise and fall",
      motion: () =>
        walkDocument(
          { delay: 0 },
          {
            "hips translation.y": [
              [1, 0.9],
              [73, 0.9],
            ],
          },
        ),
    },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "hips",
    frames: [32, 118],
    slip: "on the steps the height of the hips is taken from the feet: halfway between the two, frame by frame",
    edits: [
      (shot) => {
        const at = placesIn(shot);
        const feet = (frame: number) => {
          const there = Math.max(1, Math.min(118, frame));
          return at("foot_l", there)[1] + at("foot_r", there)[1];
        };
        // Ten centimetres lower than they stood, so that both legs reach.
        const start = valueIn(shot, "hips", "translation.y", 1) - 10 - feet(1) / 2;
        return onEveryFrame(shot, "hips", "translation.y", 1, 118, (_, frame) => start + feet(frame) / 2);
      },
      (shot, before) =>
        (["l", "r"] as const).flatMap((side) =>
          reaching(
            shot,
            { limb: [`thigh_${side}`, `shin_${side}`, `foot_${side}`], frames: [1, 118] },
            before,
          ),
        ),
      (shot, before) =>
        (["l", "r"] as const).flatMap((side) =>
          reaching(
            shot,
            { limb: [`upper_arm_${side}`, `forearm_${side}`, `hand_${side}`], frames: [1, 118] },
            before,
          ),
        ),
    ],
  },
  picture: {
    draws: "courses",
    nodes: ["hips", "foot_l", "foot_r"],
    of: "height",
    apart: true,
    frames: [31, 46],
  },
});
