import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import { eased, everyFrame } from "../../shared/examples/motions.ts";
import { type Held, holdingDocument, swing } from "../shared/held-motions.ts";
import { gripSlip } from "./check.ts";

/** A cup that the left hand carries through a swing, and that shifts by so many metres along the hand between two frames. */
function carried(slip: number, from = 20, to = 34, more: Partial<Held> = {}): CurveDocument {
  const shift = eased(from, to, 0, slip);
  return holdingDocument(swing, [1, 60], {
    node: "cup",
    path: (frame, hand) => hand.point(frame, [0.08 + shift(frame), -0.04, 0]),
    ...more,
  });
}

/** The cup rests in the air before the hand takes it anew a finger farther, and goes on. */
const resting = (): CurveDocument =>
  holdingDocument(
    {
      ...swing,
      "hips translation.x": [
        [1, 0],
        [44, 0],
        [50, -0.03],
        [60, -0.03],
      ],
    },
    [1, 60],
    {
      node: "cup",
      path: (frame, hand) => hand.point(Math.min(frame, 44), [0.08, -0.04, 0]),
    },
  );

/** A ball of 8 cm that the document says the left hand holds, so many metres under the middle of the hand. */
const under = (way: number): CurveDocument =>
  holdingDocument(swing, [1, 60], {
    node: "ball",
    path: (frame, hand) => hand.point(frame, [0.08, -way, 0]),
    shapes: [{ kind: "sphere", radius: 0.04 }],
    prop: { heldBy: [{ node: "hand_l", frames: [1, 60] }] },
  });

/** Those of the cup, or of the arm that leaves it behind. */
const keys = [
  ...(["x", "z"] as const).map((axis) => ({ node: "cup", channel: `translation.${axis}` as const })),
  { node: "upper_arm_l", channel: "rotation.y" as const },
];

export const gripSlipExamples = defineExamples(gripSlip, {
  faulty: [
    {
      title: "a cup that slips along the hand in a swing",
      motion: () => carried(0.04),
      right: () => carried(0),
      note: { node: "cup", frames: [23, 31], key: keys, measured: 0.0323 },
    },
    {
      title: "a cup that the document says is held, and slips",
      motion: () => carried(0.05, 24, 40, { prop: { heldBy: [{ node: "hand_l", frames: [1, 60] }] } }),
      right: () => carried(0, 24, 40, { prop: { heldBy: [{ node: "hand_l", frames: [1, 60] }] } }),
      note: { node: "cup", frames: [28, 36], key: keys, measured: 0.0385 },
    },
    {
      title: "a hand that hangs over the ball which it is to hold",
      motion: () => under(0.2),
      right: () => under(0.06),
      note: {
        node: "hand_l",
        frames: [1, 60],
        key: { node: "upper_arm_l", channel: "rotation.y" },
        // Between them are the ball's radius and half of a hand's thickness.
        measured: 0.2 - 0.04 - 0.016 * 1.7,
      },
      unfixed: "where on the thing the hand belongs, nothing tells",
    },
  ],
  silent: [
    {
      title: "a hand that is a finger's breadth off the ball which it is to hold",
      motion: () => under(0.09),
      unexcused: () => under(0.2),
    },
    { title: "a cup that keeps its place", motion: () => carried(0) },
    { title: "a shift of half a finger", motion: () => carried(0.008) },
    { title: "a hand that takes a resting thing anew", motion: resting },
    {
      title: "a hold that is meant to slide",
      motion: () =>
        carried(0.04, 20, 34, { prop: { heldBy: [{ node: "hand_l", frames: [1, 60], slides: true }] } }),
      unexcused: () => carried(0.04),
    },
    {
      title: "a hand that pivots on what it holds",
      motion: () =>
        holdingDocument(
          {
            ...swing,
            "hand_l rotation.z": everyFrame(1, 60, eased(20, 40, 0, 30)),
          },
          [1, 60],
          { node: "cup", path: (frame, hand) => hand.point(frame, [0.06, 0, 0]) },
        ),
    },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "crate",
    frames: [40, 62],
    slip: "the crate slides 6 cm along the hands while the porter comes down",
    edits: [
      (shot) =>
        onEveryFrame(
          shot,
          "crate",
          "translation.x",
          40,
          118,
          (value, frame) => value + eased(44, 60, 0, 6)(frame),
        ),
    ],
  },
  picture: { draws: "figure", seen: "top", at: [14, 20, 27, 34], marks: ["cup", "hand_l"] },
});
