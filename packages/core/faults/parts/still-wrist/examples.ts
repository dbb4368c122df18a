import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  bipedWithout,
  type Curves,
  eased,
  easedKeys,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { stillWrist } from "./check.ts";

const figure =
  (curves: Curves, more: Partial<CurveDocument> = {}) =>
  () =>
    bipedDocument(curves, { more });
const swing = (angle: number, base = 0) => easedKeys([1, 48], [10, 30], angle, base);
/** A swing by 60° within 20 frames has steps over 15° a second from the third one to the last but two. */
const seen = [12, 28] as const;
const fromUpperArm = { "upper_arm_l rotation.z": swing(60, -70) };

/** The wrist bends back at the start of a swing, and over at its end. */
const trail = (angle: number) =>
  everyFrame(
    1,
    48,
    (frame) =>
      eased(10, 18, 0, -angle)(frame) +
      eased(20, 32, 0, 1.4 * angle)(frame) -
      eased(32, 42, 0, 0.4 * angle)(frame),
  );
/** Next to nothing: from −0.54 at frame 12 the sine goes to 0.99 at frame 14, and no farther until frame 28. */
const fidget = everyFrame(1, 48, (frame) => 0.5 * Math.sin(frame));
const hanging: Curves = {
  "upper_arm_l rotation.z": swing(0, -90),
  "upper_arm_r rotation.z": swing(0, 90),
};

export const stillWristExamples = defineExamples(stillWrist, {
  faulty: [
    {
      title: "an arm that swings by 60° with a hand that keeps its angle",
      motion: figure(fromUpperArm),
      right: figure({ ...fromUpperArm, "hand_l rotation.z": trail(25) }),
      // Neither the wrist nor the forearm has keys that could be named.
      note: { node: "hand_l", frames: seen, measured: 0 },
    },
    {
      title: "a forearm that swings by 60°, and a wrist whose keys do next to nothing",
      motion: figure({ "forearm_l rotation.y": swing(-60), "hand_l rotation.z": fidget }),
      right: figure({ "forearm_l rotation.y": swing(-60), "hand_l rotation.y": trail(-15) }),
      note: {
        node: "hand_l",
        frames: seen,
        key: { node: "hand_l", channel: "rotation.z" },
        measured: 0.5 * (Math.sin(14) - Math.sin(12)),
      },
    },
    {
      title: "a forearm that swings by 60° with a hand that keeps its angle",
      motion: figure({ "forearm_l rotation.y": swing(-60) }),
      right: figure({ "forearm_l rotation.y": swing(-60), "hand_l rotation.y": trail(-15) }),
      note: {
        node: "hand_l",
        frames: seen,
        key: { node: "forearm_l", channel: "rotation.y" },
        measured: 0,
      },
    },
    {
      title: "a swing that a contact of the hand goes into by a few frames",
      motion: figure(fromUpperArm, { contacts: [{ node: "hand_l", frames: [1, 16] }] }),
      note: { node: "hand_l", frames: seen, measured: 0 },
    },
    {
      title: "a wrist that trails on the way out and is still on the way back",
      motion: figure({
        "upper_arm_l rotation.z": everyFrame(
          1,
          60,
          (frame) => -70 + 60 * (eased(6, 16, 0, 1)(frame) - eased(16, 26, 0, 1)(frame)),
        ),
        "hand_l rotation.z": everyFrame(
          1,
          60,
          (frame) => -25 * (eased(6, 11, 0, 1)(frame) - eased(11, 16, 0, 1)(frame)),
        ),
      }),
      note: { node: "hand_l", frames: [16, 25], key: { node: "hand_l", channel: "rotation.z" }, measured: 0 },
    },
  ],
  silent: [
    { title: "a wrist that trails", motion: figure({ ...fromUpperArm, "hand_l rotation.z": trail(12) }) },
    {
      title: "cuts by step keys from one held pose to the next",
      motion: figure({
        "upper_arm_l rotation.z": {
          interpolation: "step",
          keys: Array.from({ length: 6 }, (_, i): [number, number] => [1 + 8 * i, -60 + 50 * (i % 2)]),
        },
      }),
      unexcused: figure(fromUpperArm),
    },
    { title: "a small swing", motion: figure({ "upper_arm_l rotation.z": swing(20, -70) }) },
    {
      title: "hanging arms that the body turns about their own length",
      motion: figure({ ...hanging, "hips rotation.y": swing(60) }),
    },
    {
      title: "a hand that a contact holds",
      motion: figure(fromUpperArm, { contacts: [{ node: "hand_l", frames: [1, 48] }] }),
    },
    // At its fastest this turns by 0.9° a frame: a wrist that trails by a frame bends by that, which nobody sees missing.
    {
      title: "a slow swing in which the wrist bends by a degree",
      motion: figure({
        "upper_arm_l rotation.z": easedKeys([1, 96], [4, 94], 40, -70),
        "hand_l rotation.z": easedKeys([1, 96], [6, 46], -1.2),
      }),
    },
    {
      title: "an arm without a wrist joint of its own",
      motion: () => bipedWithout(/hand|fingers/, fromUpperArm),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "hand_l",
    frames: [5, 79],
    slip: "in the first version the left wrist has no keys",
  },
  picture: { draws: "figure", seen: "front", at: [10, 24, 30, 18], only: ["upper_arm_l"] },
});
