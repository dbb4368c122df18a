import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { type Curves, eased, easedKeys, everyFrame } from "../../shared/examples/motions.ts";
import { fromTheFront, fromTheLeft, stagedDocument, withCamera } from "../shared/camera-motions.ts";
import { limbAtLens } from "./check.ts";

/** The left arm swings forward by so many degrees by frame 24, and stays. */
const forward = (degrees: number): Curves => ({
  "upper_arm_l rotation.y": easedKeys([1, 60], [10, 24], -degrees),
});

/** Someone with a lamp that hands are declared to hold all the time; it hangs on the left one, which swings forward. */
function carrying(degrees: number, hands: readonly string[]): CurveDocument {
  const document = stagedDocument(forward(degrees), fromTheFront, {
    more: { props: [{ node: "lamp", heldBy: hands.map((node) => ({ node, frames: [1, 60] })) }] },
  });
  document.nodes.push({ id: "lamp", parent: "hand_l", translation: [0.08, -0.2, 0] });
  return document;
}

/** The right arm hangs. */
const downOnTheRight: Curves = { "upper_arm_r rotation.z": everyFrame(1, 60, () => 85) };

export const limbAtLensExamples = defineExamples(limbAtLens, {
  faulty: [
    {
      title: "an arm that comes to point into the lens",
      motion: () => stagedDocument(forward(90)),
      right: () => stagedDocument(forward(50)),
      note: {
        node: "hand_l",
        frames: [20, 60],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        measured: 0.1028,
      },
    },
    {
      title: "an arm that is held out to the side, seen from that side",
      motion: () =>
        stagedDocument(
          { ...downOnTheRight, "upper_arm_l rotation.y": easedKeys([1, 60], [30, 50], -80) },
          fromTheLeft,
        ),
      note: {
        node: "hand_l",
        frames: [1, 36],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        measured: 0.1001,
      },
    },
    {
      title: "an arm that points into the lens with what it carries",
      motion: () => carrying(90, ["hand_l"]),
      right: () => carrying(50, ["hand_l"]),
      note: {
        node: "hand_l",
        frames: [20, 60],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        measured: 0.1028,
      },
    },
  ],
  silent: [
    {
      title: "a thing that both hands hold",
      motion: () => carrying(90, ["hand_l", "hand_r"]),
      unexcused: () => carrying(90, ["hand_l"]),
    },
    {
      title: "a shot without a camera",
      motion: () => stagedDocument(forward(90), null),
      unexcused: () => stagedDocument(forward(90)),
    },
    {
      title: "the same pose seen from half the side",
      motion: () => stagedDocument({ ...downOnTheRight, ...forward(90) }, { at: [3.6, 1, 3.6], yaw: 45 }),
    },
    {
      title: "an arm that passes through",
      motion: () =>
        stagedDocument({
          "upper_arm_l rotation.y": everyFrame(
            1,
            60,
            (frame) => eased(10, 17, 0, -90)(frame) + eased(17, 24, 0, 70)(frame),
          ),
        }),
    },
    {
      title: "a hand that holds what the document says",
      motion: () =>
        stagedDocument(forward(90), fromTheFront, {
          more: { contacts: [{ node: "hand_l", with: "head", frames: [15, 60] }] },
        }),
      unexcused: () => stagedDocument(forward(90)),
    },
    { title: "an arm out of the picture", motion: () => stagedDocument(forward(90), { at: [0, 4, 5] }) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_l",
    frames: [108, 116],
    slip: "the camera stands before the dancer's left, into which the left arm points at the end",
    replace: withCamera([433.1, 110, 247.5], 60),
  },
  picture: { draws: "figure", seen: "front", at: [10, 40], marks: ["hand_l"] },
});
