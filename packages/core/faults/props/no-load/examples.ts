import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import {
  type Curves,
  eased,
  everyFrame,
  motionDocument,
  standing,
  standingHips,
} from "../../shared/examples/motions.ts";
import { withHeld } from "../shared/held-motions.ts";
import { noLoad } from "./check.ts";

/** How far the body is down before it lifts, metres. */
const down = 0.33;
const rises = eased(14, 40, -down, 0);

/**
 * A body comes up from a crouch with a crate in its left hand, whose arm is raised ahead of it by so many degrees and comes
 * back to the body as it comes up.
 */
function lifted(ahead: number, mass = 12, hips: (frame: number) => number = rises): CurveDocument {
  const arm = (frame: number) => -60 + eased(13, 20, 0, ahead)(frame) - eased(20, 42, 0, ahead)(frame);
  return holding({ "upper_arm_l rotation.z": everyFrame(1, 60, arm) }, mass, hips);
}

/** An arm that is not quite straight, as arms are. */
const bent: Curves = {
  "upper_arm_l rotation.x": everyFrame(1, 60, () => 0),
  "upper_arm_l rotation.y": everyFrame(1, 60, () => -10),
  "forearm_l rotation.y": everyFrame(1, 60, () => -75),
  ...Object.fromEntries(
    ["x", "y", "z"].map((axis) => [`hand_l rotation.${axis}`, everyFrame(1, 60, () => 0)]),
  ),
};

/** A heavy crate and the body that lifts it, both up within so many frames; the rest of the body takes its time. */
function leapt(frames: number): CurveDocument {
  const rises = eased(14, 14 + frames, -down, 0);
  return holding(
    {
      "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -60 - eased(14, 14 + frames, 0, 6)(frame)),
      "upper_arm_r rotation.z": everyFrame(1, 60, eased(3, 46, 55, 70)),
      "spine rotation.z": everyFrame(1, 60, eased(6, 52, 0, -5)),
      "head rotation.y": everyFrame(1, 60, eased(24, 58, 0, 12)),
    },
    26,
    (frame) => rises(frame) - eased(14, 60, 0, 0.03)(frame),
  );
}

/** A crate that a long arm lifts beside a body, which leans away from it by so many degrees. */
function besides(lean: number): CurveDocument {
  return holding(
    {
      "upper_arm_l rotation.z": everyFrame(1, 60, eased(14, 34, -60, -20)),
      "forearm_l rotation.y": everyFrame(1, 60, () => -10),
      "spine rotation.z": everyFrame(1, 60, eased(10, 30, 0, lean)),
    },
    12,
    () => 0,
  );
}

/**
 * Poses in step keys: someone stands with hanging arms, stoops to a crate with the left hand, and comes up with it. It is so
 * many metres off the floor in the pose in which the hand takes it.
 */
function blocked(off: number): CurveDocument {
  const poses = [1, 15, 29];
  const at = (values: readonly number[]) =>
    everyFrame(1, 42, (frame) => values[poses.filter((one) => one <= frame).length - 1]);
  const bare = motionDocument(
    {
      first: 1,
      last: 42,
      hips: (frame) => [0, standingHips - (frame < 15 || frame >= 29 ? 0 : down), 0],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    {},
    { ...bent, "upper_arm_l rotation.z": at([-80, -60, -60]) },
  );
  const whole = withHeld(bare, [1, 42], {
    node: "crate",
    path: (frame, hand) => {
      const [x, y, z] = hand.point(Math.max(15, frame), [0.08, -0.1, 0]);
      return [x, y - (frame < 15 ? off : 0), z];
    },
    shapes: [{ kind: "box", size: [0.2, 0.2, 0.2] }],
    prop: { mass: 12, heldBy: [{ node: "hand_l", frames: [15, 42] }] },
  });
  const curves = whole.curves.map((curve) => ({
    ...curve,
    interpolation: "step" as const,
    keys: curve.keys.filter(([frame]) => poses.includes(frame)),
  }));
  return { ...whole, curves };
}

function holding(curves: Curves, mass: number, hips: (frame: number) => number): CurveDocument {
  const bare = motionDocument(
    {
      first: 1,
      last: 60,
      hips: (frame) => [0, standingHips + hips(frame), 0],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    {},
    { ...bent, ...curves },
  );
  return withHeld(bare, [1, 60], {
    node: "crate",
    path: (frame, hand) => hand.point(frame, [0.08, -0.1, 0]),
    shapes: [{ kind: "box", size: [0.2, 0.2, 0.2] }],
    prop: { mass },
  });
}

export const noLoadExamples = defineExamples(noLoad, {
  faulty: [
    {
      title: "a crate that is up before the knees have begun to lift it",
      motion: () => lifted(26),
      right: () => lifted(0),
      note: {
        node: "crate",
        frames: [14, 36],
        key: [
          { node: "crate", channel: "translation.y" },
          { node: "crate", channel: "translation.x" },
        ],
        measured: 3.28,
      },
    },
    {
      title: "a crate of 26 kg that is up within a quarter of a second",
      motion: () => leapt(6),
      right: () => leapt(26),
      note: {
        node: "crate",
        frames: [14, 17],
        key: [{ node: "crate", channel: "translation.y" }],
        measured: 3,
      },
    },
    {
      title: "a load that an arm lifts beside a body that does not answer",
      motion: () => besides(0),
      right: () => besides(-12),
      note: {
        node: "crate",
        frames: [15, 32],
        key: { node: "crate", channel: "translation.x" },
        measured: 0,
      },
      unfixed: "how a body braces itself is for the animator to say",
    },
    {
      title: "a crate that is off the floor in the pose in which the hand takes it",
      motion: () => blocked(0.12),
      right: () => blocked(0),
      note: {
        node: "crate",
        frames: [14, 15],
        key: { node: "crate", channel: "translation.y" },
        measured: 0.12,
      },
      unfixed: "the pose that is missing is for the animator to make",
    },
  ],
  silent: [
    { title: "a crate that comes up with the body", motion: () => lifted(0) },
    { title: "a light thing", motion: () => lifted(26, 1), unexcused: () => lifted(26) },
    {
      title: "a load that the arm lifts beside a body that leans away from it",
      motion: () => besides(-12),
    },
    {
      title: "a crate of 26 kg that comes up slowly",
      motion: () => leapt(26),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "parcel",
    frames: [56, 80],
    slip: "the dancer jumps with a parcel of 12 kg in the left hand, which goes up five frames ahead of the body",
    replace: [
      `"nodes": [\n`,
      `"props": [\n    { "node": "parcel", "mass": 12, "heldBy": [{ "node": "hand_l", "frames": [58, 92] }] }\n  ],\n  "nodes": [\n    { "id": "parcel", "parent": "hand_l", "translation": [0, -9, 0] },\n`,
    ],
    edits: [
      (shot) => (["x", "y", "z"] as const).flatMap((axis) => sooner(shot, "upper_arm_l", axis)),
      (shot) => (["x", "y", "z"] as const).flatMap((axis) => sooner(shot, "forearm_l", axis)),
    ],
  },
  picture: { draws: "courses", nodes: ["crate", "upper_arm_l"], of: "height" },
});

/** A joint's turn five frames sooner between two frames, eased in and out. */
function sooner(shot: Shot, node: string, axis: "x" | "y" | "z"): KeyEdit[] {
  const channel = `rotation.${axis}` as const;
  const by = (frame: number) => eased(56, 64, 0, 5)(frame) - eased(84, 96, 0, 5)(frame);
  return onEveryFrame(shot, node, channel, 56, 96, (_, frame) =>
    valueIn(shot, node, channel, frame + by(frame)),
  );
}
