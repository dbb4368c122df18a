import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  type Curves,
  type DocumentOptions,
  eased,
  everyFrame,
  jumpDocument,
  type Keyed,
  pathDocument,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { armAlong, bowed, ledHand, onLine, rested } from "../shared/led-hands.ts";
import { retracedPath } from "./check.ts";

const smooth = (...keys: [number, number][]): Keyed => ({ interpolation: "smooth", keys });
/** An arm that swings down and up again by its shoulder; its elbow bends on the way back. */
const swung = (bend: number) => () =>
  bipedDocument({
    "upper_arm_l rotation.y": smooth([1, 0], [60, 0]),
    "upper_arm_l rotation.z": smooth([1, 0], [8, 0], [26, -70], [44, 0], [60, 0]),
    "forearm_l rotation.z": smooth([1, 10], [8, 10], [26, 10], [31, 10 + bend], [44, 10], [60, 10]),
  });

/** A slow swing with a rest at its lowest point, on whose way back the elbow may bend. */
const paused = (bend: number) => () =>
  bipedDocument({
    "upper_arm_l rotation.y": smooth([1, 0], [96, 0]),
    "upper_arm_l rotation.z": smooth([1, 0], [8, 0], [40, -70], [46, -70], [78, 0], [96, 0]),
    "forearm_l rotation.z": smooth([1, 10], [46, 10], [58, 10 + bend], [78, 10], [96, 10]),
  });

/** Out and back within frames 8 to 44. */
const outAndBack = (frame: number) =>
  frame < 8 || frame > 44 ? 0 : (1 - Math.cos((2 * Math.PI * (frame - 8)) / 36)) / 2;
const turned = (node: string, by: number, start = 0, more: Curves = {}, options: DocumentOptions = {}) =>
  bipedDocument(
    { [node]: everyFrame(1, 60 + start, (frame) => by * outAndBack(frame - start)), ...more },
    options,
  );
/** A wrist that is led out along a line, and back beside it by a share of the way. */
const led = (beside: number) => () =>
  bipedDocument(
    armAlong((frame) => {
      const gone = outAndBack(frame);
      return onLine(gone, frame < 26 ? 0 : beside * bowed(gone));
    }),
  );
const hanging: Curves = {
  "hips translation.y": [
    [1, 1.3],
    [60, 1.3],
  ],
  "thigh_r rotation.z": [
    [1, 0],
    [60, 0],
  ],
};
const touching = (node: string): DocumentOptions => ({
  more: { contacts: [{ node, with: "table", frames: [24, 28] }] },
});

export const retracedPathExamples = defineExamples(retracedPath, {
  faulty: [
    {
      title: "an arm that one joint swings down and up again",
      motion: swung(0),
      right: swung(60),
      note: {
        node: "hand_l",
        frames: [8, 44],
        key: { node: "upper_arm_l", channel: "rotation.z", frame: 26 },
        measured: 0,
      },
    },
    {
      title: "a hand whose way back lies off the way out by 3 % of it",
      motion: led(0.03),
      right: led(0.15),
      // The two ways are compared at equal lengths from the turn; the bow adds next to nothing to its own.
      note: {
        node: "hand_l",
        frames: [8, 44],
        key: [
          { node: "upper_arm_l", channel: "rotation.z" },
          { node: "forearm_l", channel: "rotation.z" },
        ],
        measured: 0.03,
      },
    },
    {
      title: "a swing after the hand has come from elsewhere and rested",
      motion: () =>
        turned("upper_arm_l rotation.z", -60, 36, {
          "forearm_l rotation.y": everyFrame(1, 96, eased(4, 20, 0, -80)),
        }),
      note: {
        node: "hand_l",
        frames: [44, 80],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "a swing that pauses where it turns",
      motion: paused(0),
      right: paused(60),
      note: {
        node: "hand_l",
        frames: [9, 77],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "a foot that kicks out and back on one line",
      motion: () => turned("thigh_r rotation.x", -70, 0, hanging),
      note: {
        node: "foot_r",
        frames: [8, 44],
        key: { node: "thigh_r", channel: "rotation.x" },
        measured: 0,
      },
    },
  ],
  silent: [
    {
      title: "an arm whose second and third joint come some frames late",
      motion: () =>
        bipedDocument({
          "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -70 * outAndBack(frame)),
          "upper_arm_l rotation.y": everyFrame(1, 60, (frame) => 25 * outAndBack(frame - 4)),
          "forearm_l rotation.y": everyFrame(1, 60, (frame) => -40 * outAndBack(frame - 3)),
        }),
    },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a small move", motion: () => turned("forearm_l rotation.y", -25) },
    { title: "a head on its spine, which is a hinge by nature", motion: () => turned("neck rotation.x", 60) },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "an arm that the body carries along as far",
      motion: () =>
        turned("upper_arm_l rotation.z", -70, 0, {
          "hips translation.z": everyFrame(1, 60, (frame) => 0.5 * outAndBack(frame)),
        }),
      unexcused: () =>
        turned("upper_arm_l rotation.z", -70, 0, {
          "hips translation.z": everyFrame(1, 60, (frame) => 0.2 * outAndBack(frame)),
        }),
    },
    {
      title: "an arm that the body turns with itself",
      motion: () => turned("hips rotation.y", 60),
      unexcused: () => turned("upper_arm_l rotation.y", 60),
    },
    {
      title: "a foot that stands at the turn",
      motion: () => turned("thigh_r rotation.x", -70, 0, hanging, touching("foot_r")),
      unexcused: () => turned("thigh_r rotation.x", -70, 0, hanging),
    },
    {
      title: "a hand that touches something at the turn",
      motion: () => turned("upper_arm_l rotation.z", -70, 0, {}, touching("hand_l")),
      unexcused: () => turned("upper_arm_l rotation.z", -70),
    },
    {
      title: "a prop",
      motion: () => pathDocument(1, 60, (frame) => [outAndBack(frame), 0, 0]),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [121, 133],
    slip: "after the landing the right hand goes before the chest and back, the way back copied from the way out",
    edits: [
      (shot) =>
        ledHand(shot, [-20, 120, 36], (frame) => {
          const gone = eased(rested, rested + 6, 0, 1)(frame) - eased(rested + 6, rested + 12, 0, 1)(frame);
          // Both ways bow alike.
          return { gone, raised: 10 * bowed(gone) };
        }),
    ],
  },
  picture: {
    draws: "path",
    node: "hand_l",
    seen: "front",
    frames: [8, 44],
    at: [8, 20, 26, 32, 44],
    only: ["upper_arm_l"],
  },
});
