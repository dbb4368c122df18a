import { defineExamples } from "../../shared/examples/example.ts";
import { type Curves, eased, easedKeys, everyFrame } from "../../shared/examples/motions.ts";
import { fromTheFront, fromTheLeft, stagedDocument, withCamera } from "../shared/camera-motions.ts";
import { mergedSilhouette } from "./check.ts";

/** Either joint of the arm is right to be named. */
const arm = (["upper_arm_l", "forearm_l"] as const).map((node) => ({ node, channel: "rotation.y" as const }));

/** A turn that is made by frame 24 and held. */
const turned = (degrees: number, base = 0) => easedKeys([1, 60], [10, 24], degrees, base);
/** The left arm comes from the side to before the body: upper arm and forearm by so many degrees about the upright. */
const before = (upper: number, fore: number): Curves => ({
  "upper_arm_l rotation.y": turned(-upper),
  "forearm_l rotation.y": turned(-fore),
});
/** The same, and the forearm goes on by 20 degrees until the end. */
const drifting = (upper: number, fore: number): Curves => ({
  ...before(upper, fore),
  "forearm_l rotation.y": everyFrame(
    1,
    60,
    (frame) => eased(10, 24, 0, -fore)(frame) - 0.5 * Math.max(0, frame - 20),
  ),
});
/** The left arm hangs from frame 24 on, before the body where the camera stands at the side. */
const hanging: Curves = { "upper_arm_l rotation.z": turned(-85), "forearm_l rotation.z": turned(-5) };

export const mergedSilhouetteExamples = defineExamples(mergedSilhouette, {
  faulty: [
    {
      title: "a hand that gestures in front of the chest",
      motion: () => stagedDocument(before(60, 105)),
      right: () => stagedDocument(before(20, 60)),
      note: {
        node: "hand_l",
        frames: [21, 60],
        key: arm,
        measured: 0,
      },
    },
    {
      title: "a hand behind the back",
      motion: () => stagedDocument(before(-50, -110)),
      right: () => stagedDocument(before(-20, -40)),
      note: {
        node: "hand_l",
        frames: [21, 60],
        key: arm,
        measured: 0,
      },
    },
    {
      title: "a hand that points forward, seen from the front",
      motion: () => stagedDocument({ "upper_arm_l rotation.y": turned(-112) }),
      note: {
        node: "hand_l",
        frames: [22, 60],
        key: arm,
        measured: 0.039,
      },
    },
    {
      title: "a hand that drifts on in front of the chest, and is never still",
      motion: () => stagedDocument(drifting(60, 85)),
      right: () => stagedDocument(drifting(20, 35)),
      note: {
        node: "hand_l",
        frames: [22, 60],
        key: arm,
        measured: 0,
      },
    },
  ],
  silent: [
    {
      title: "a shot without a camera",
      motion: () => stagedDocument(before(60, 105), null),
      unexcused: () => stagedDocument(before(60, 105)),
    },
    { title: "the same pose from the side", motion: () => stagedDocument(before(60, 60), fromTheLeft) },
    {
      title: "an arm that comes to hang before the body",
      motion: () => stagedDocument(hanging, fromTheLeft),
    },
    {
      title: "a hand that passes the body",
      motion: () =>
        stagedDocument({
          "upper_arm_l rotation.y": turned(-60),
          "forearm_l rotation.y": everyFrame(
            1,
            60,
            (frame) => eased(8, 20, 0, -150)(frame) + eased(20, 32, 0, 120)(frame),
          ),
        }),
    },
    {
      title: "a hand that touches what the document says",
      motion: () =>
        stagedDocument(before(60, 105), fromTheFront, {
          more: { contacts: [{ node: "hand_l", with: "chest", frames: [20, 60] }] },
        }),
      unexcused: () => stagedDocument(before(60, 105)),
    },
    {
      title: "hands that hold each other",
      motion: () =>
        stagedDocument({
          ...before(60, 110),
          "upper_arm_r rotation.y": turned(60),
          "forearm_r rotation.y": turned(110),
        }),
    },
    {
      title: "a pose that is there from the start",
      motion: () =>
        stagedDocument({
          "forearm_l rotation.y": easedKeys([1, 60], [10, 24], 3, -105),
          "upper_arm_l rotation.y": easedKeys([1, 60], [10, 24], 1, -60),
        }),
    },
    {
      title: "a hand that drifts beside the body",
      motion: () => stagedDocument(drifting(20, 35)),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_l",
    frames: [76, 80],
    slip: "the camera stands at the dancer's right, where the left hand gestures behind the body",
    replace: withCamera([-499.9, 110, -2.5], 270),
  },
  picture: { draws: "figure", seen: "front", at: [10, 40], marks: ["hand_l"] },
});
