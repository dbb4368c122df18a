import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import { jumpDocument, walkDocument } from "../../shared/examples/motions.ts";
import { gaitSpeed } from "./check.ts";

/** Nine steps of 30 cm in six frames each, then a stand: centimetres by which hips and feet are on their way. */
const hurried = {
  hips: (frame: number) => 5 * Math.min(54, frame - 1),
  foot(frame: number, side: "l" | "r"): [up: number, on: number] {
    // Steps since this foot last stood under the hips: it lands at −0.5, leaves at 0.5, and lands again at 1.5.
    const own = Math.min(9, (frame - 1) / 6) - (side === "l" ? 0 : 1);
    const cycle = Math.floor((own + 0.5) / 2);
    const swing = Math.max(0, own - 2 * cycle - 0.5);
    const stands = 30 * (2 * cycle + (side === "l" ? 0 : 1));
    return [3 * Math.sin(Math.PI * swing) ** 2, stands + 60 * swing * swing * (3 - 2 * swing)];
  },
};

export const gaitSpeedExamples = defineExamples(gaitSpeed, {
  faulty: [
    {
      title: "a grown person who hurries with steps of 30 cm, four a second",
      motion: () => walkDocument({ stepLength: 0.3, stepFrames: 6, steps: 12 }),
      right: () => walkDocument({ stepLength: 0.6, stepFrames: 12 }),
      // A foot lands half a step before the hips are over it: the first at frame 4, the last at frame 70.
      note: { node: "hips", frames: [4, 70], key: { node: "hips", channel: "translation.z" }, measured: 0.5 },
      unfixed: "longer strides change where the shot goes, which no few keys do",
    },
  ],
  silent: [
    { title: "a walk at an ordinary speed", motion: () => walkDocument() },
    { title: "a slow walk", motion: () => walkDocument({ stepLength: 0.4, stepFrames: 16 }) },
    { title: "a quick walk", motion: () => walkDocument({ stepLength: 0.7, stepFrames: 11 }) },
    {
      title: "steps on the spot",
      motion: () => walkDocument({ stepLength: 0.02, stepFrames: 8 }),
    },
    {
      title: "fewer than three strides",
      motion: () => walkDocument({ stepLength: 0.3, stepFrames: 6, steps: 3 }),
      unexcused: () => walkDocument({ stepLength: 0.3, stepFrames: 6, steps: 12 }),
    },
    { title: "a jump", motion: () => jumpDocument() },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [1, 30],
    slip: "instead of standing there she comes along in steps of 30 cm, four a second",
    edits: [
      (shot) =>
        onEveryFrame(shot, "hips", "translation.z", 1, 136, (value, frame) => value + hurried.hips(frame)),
      (shot, before) =>
        (["l", "r"] as const).flatMap((side) =>
          reaching(
            shot,
            {
              limb: [`thigh_${side}`, `shin_${side}`, `foot_${side}`],
              frames: [1, 136],
              to: ([x, y, z], frame) => {
                const [up, on] = hurried.foot(frame, side);
                return [x, y + up, z + on];
              },
            },
            before,
          ),
        ),
    ],
  },
  picture: { draws: "courses", nodes: ["hips", "foot_l", "foot_r"], of: "height", apart: true },
});
