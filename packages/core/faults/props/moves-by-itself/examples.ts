import { minus, plus, scaled, type Vector } from "../../../base/vector.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import { eased } from "../../shared/examples/motions.ts";
import { type Carrier, type Held, holdingDocument, swing } from "../shared/held-motions.ts";
import { movesByItself } from "./check.ts";

/** Frame at which the hand of the swing comes to the ball. */
const comes = 20;
const ball = [{ kind: "sphere" as const, radius: 0.05 }];

/** Where the ball is in the hand from where that comes to it on, between two frames too. */
function inHand(hand: Carrier, frame: number): Vector {
  const at = Math.min(60, Math.max(comes, frame));
  const whole = Math.min(59, Math.floor(at));
  const [a, b] = [whole, whole + 1].map((one) => hand.point(one, [0.06, 0, 0]));
  return plus(a, scaled(minus(b, a), at - whole));
}

/** The left hand comes to a ball and takes it along; that sets out so many frames before, and the hand catches up with it. */
function taken(ahead: number, more: Partial<Held> = {}): CurveDocument {
  const early = eased(comes, 40, ahead, 0);
  return holdingDocument(swing, [1, 60], {
    node: "ball",
    path: (frame, hand) => inHand(hand, frame + early(frame)),
    shapes: ball,
    ...more,
  });
}

/** Millimetres from frame to frame that the ball goes once the hand has let go of it, as it was left and then faster. */
const coasts = [49, 49, 49, 49, 49, 48, 47, 46, 44, 42, 39, 35, 30, 24, 18, 12, 7, 3, 1];
const gains = [49, 49, 49, 49, 49, 49, 49, 49, 55, 65, 80, 80, 80, 60, 40, 25, 12, 6, 2];

/** The hand pushes a ball along a shelf and stays behind; it is to touch it again from frame 40 on. */
function pushed(steps: readonly number[]): CurveDocument {
  const leaves = 24;
  const document = holdingDocument(swing, [1, 60], {
    node: "ball",
    path: (frame, hand) => {
      const at = inHand(hand, Math.min(leaves, frame));
      const step = minus(inHand(hand, leaves), inHand(hand, leaves - 1));
      const way = steps.slice(0, Math.max(0, frame - leaves)).reduce((sum, one) => sum + one / 1000, 0);
      return plus(at, scaled(step, way / Math.hypot(...step)));
    },
    shapes: ball,
  });
  const board = [{ kind: "box" as const, size: [4, 0.02, 4] as [number, number, number] }];
  return {
    ...document,
    nodes: [...document.nodes, { id: "shelf", translation: [0.5, 1.36, 0.5], shapes: board }],
    contacts: [{ node: "hand_l", with: "ball", frames: [40, 60] }],
  };
}

/** A ball of which the hand is a hand's length away until it is there late: it moves meanwhile by its own way. */
function alone(way: (frame: number) => readonly [number, number, number], waits = 60): CurveDocument {
  return holdingDocument(swing, [1, 60], {
    node: "ball",
    path: (frame, hand) => {
      const [x, y, z] = hand.point(waits, [0.06, 0, 0]);
      const [dx, dy, dz] = way(frame);
      return [x + dx, y + dy, z + dz];
    },
    shapes: ball,
  });
}

export const movesByItselfExamples = defineExamples(movesByItself, {
  faulty: [
    {
      title: "a ball that sets out eight frames before the hand is at it",
      motion: () => taken(8),
      right: () => taken(0),
      note: {
        node: "ball",
        frames: [12, 31],
        key: { node: "ball", channel: "translation.x" },
        measured: 19,
      },
    },
    {
      title: "a ball that gets faster along a shelf once the hand has let go of it",
      motion: () => pushed(gains),
      right: () => pushed(coasts),
      note: {
        node: "ball",
        frames: [31, 40],
        key: { node: "ball", channel: "translation.z" },
        measured: 9,
      },
      unfixed: "whether the thing waits or the hand keeps up with it, nothing tells",
    },
  ],
  silent: [
    {
      title: "a ball that runs on along a shelf as the hand leaves it, and gets no faster",
      motion: () => pushed(coasts),
      unexcused: () => pushed(gains),
    },
    { title: "a ball that the hand takes along", motion: () => taken(0) },
    { title: "a ball that is a frame ahead", motion: () => taken(1), unexcused: () => taken(6) },
    {
      title: "a ball that rolls down to the hand",
      motion: () => alone((frame) => [eased(10, 40, 0.4, 0)(frame), eased(10, 40, 0.1, 0)(frame), 0]),
      unexcused: () => alone((frame) => [eased(10, 40, 0.4, 0)(frame), 0, 0]),
    },
    {
      title: "a ball that goes by and that nobody comes to",
      motion: () => alone((frame) => [eased(10, 40, 0.8, 1.6)(frame), 0, 0]),
    },
  ],
  provocation: {
    shot: "gate_0050_v2",
    node: "leaf",
    frames: [30, 32],
    slip: "a leaf of the gate swings open ten frames before the signaller has a hand on it",
    replace: [
      `"nodes": [\n`,
      `"contacts": [\n    { "node": "hand_l", "with": "leaf", "frames": [42, 60] }\n  ],\n  "nodes": [\n    { "id": "leaf", "translation": [160, 0, -80], "shapes": [{ "kind": "box", "size": [6, 120, 80], "centre": [0, 60, 40] }] },\n`,
    ],
    edits: [
      (shot) => onEveryFrame(shot, "leaf", "rotation.y", 20, 80, (_, frame) => eased(30, 60, 0, 60)(frame)),
    ],
  },
  picture: { draws: "courses", nodes: ["ball", "hand_l"], of: "height" },
});
