import { withBall } from "../../props/shared/held-motions.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import { bipedDocument, everyFrame, onTwos } from "../../shared/examples/motions.ts";
import { quickTop } from "./check.ts";

/** Degrees of an upper arm that brings the hand to a height (metres over the shoulder), 0.53 m away from it. */
const turnTo = (height: number) => (Math.asin(height / 0.53) * 180) / Math.PI;
/** Height of a hand that goes up by 0.4 m from frame 13 to 25 and comes down as fast, by its share at each time. */
const height = (shape: (t: number) => number) => (frame: number) =>
  -0.2 + 0.4 * shape(Math.min(1, Math.abs(frame - 25) / 12));
const even = (t: number) => 1 - t;
const falling = (t: number) => 1 - t * t;
const swung = (t: number) => (1 + Math.cos(Math.PI * t)) / 2;
/** A little slower at the top: 0.75 of the height are left after 0.3 of the time, 0.25 after 0.8 of it. */
const hardly = (t: number) =>
  t < 0.3 ? 1 - (0.25 * t) / 0.3 : t < 0.8 ? 0.75 - (t - 0.3) : 0.25 * (1 - (t - 0.8) / 0.2);
const wave = (shape: (t: number) => number) => ({
  "upper_arm_l rotation.z": everyFrame(1, 49, (frame) => turnTo(height(shape)(frame))),
});
const waving = (shape: (t: number) => number) => () => bipedDocument(wave(shape));

export const quickTopExamples = defineExamples(quickTop, {
  faulty: [
    {
      title: "a hand that goes up and down at one pace",
      motion: waving(even),
      right: waving(falling),
      note: {
        node: "hand_l",
        frames: [22, 28],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        // A quarter of the way over half of it.
        measured: 0.5,
      },
    },
    {
      title: "a hand that hardly slows down at its top",
      motion: waving(hardly),
      right: waving(swung),
      note: {
        node: "hand_l",
        frames: [21, 29],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        // 0.3 of the time over 0.5 of it, between frames that are 1/12 of it apart.
        measured: 0.6,
      },
    },
  ],
  silent: [
    { title: "a hand that rises and falls as what is thrown", motion: waving(falling) },
    { title: "a hand that swings", motion: waving(swung) },
    {
      title: "a hand that strikes a bell, which is declared",
      motion: () => ({ ...waving(even)(), contacts: [{ node: "hand_l", with: "bell", frames: [25, 25] }] }),
      unexcused: waving(even),
    },
    {
      title: "a hand that throws a ball at its top",
      motion: () => withBall(wave(even), [1, 25]),
      unexcused: () => withBall(wave(even), [1, 48]),
    },
    {
      title: "a small wave",
      motion: () =>
        bipedDocument({
          "upper_arm_l rotation.z": everyFrame(1, 49, (frame) => turnTo(0.4 * height(even)(frame))),
        }),
      unexcused: waving(even),
    },
    {
      title: "a wave on twos",
      motion: () =>
        bipedDocument({ "upper_arm_l rotation.z": onTwos(1, 49, (frame) => turnTo(height(even)(frame))) }),
    },
    {
      title: "a wing, whose beat carries",
      motion: () => ({
        ...waving(even)(),
        propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" as const }],
      }),
      unexcused: waving(even),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_l",
    frames: [108, 117],
    slip: "the left arm comes up after the landing and goes down again with no time at its top",
    edits: [
      (shot, before) => {
        const at = (frame: number) => keyAt(before, "upper_arm_l", "rotation.z", frame);
        return rekeyed(shot, "upper_arm_l", "rotation.z", [
          { ...at(97), slope: 0, leaves: 0 },
          { frame: 117, value: 75, slope: 2, leaves: -2 },
          { frame: 136, value: 40 },
        ]);
      },
    ],
  },
  picture: { draws: "courses", nodes: ["hand_l"], of: "height", frames: [10, 40] },
});
