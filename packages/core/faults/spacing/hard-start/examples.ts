import { withBall } from "../../props/shared/held-motions.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { rekeyed } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  chainDocument,
  eased,
  everyFrame,
  jump,
  jumpDocument,
  type Keyed,
  onTwos,
  pathDocument,
  pointDocument,
  riddenDocument,
  smooth,
  straight,
} from "../../shared/examples/motions.ts";
import { hardStart } from "./check.ts";

/** Frames from 10 % of the speed to 80 %, where rest is followed by a step at full speed: 0.7 of that step. */
const atOnce = 0.7;

/** A value that leaves rest at full speed at a frame, and loses it evenly until another. */
const thrown = (from: number, to: number, at: number, value: number): Keyed => ({
  interpolation: "bezier",
  keys: [
    [1, at, { interpolation: "linear" }],
    [from, at, { out: [(to - from) / 3, (2 / 3) * (value - at)] }],
    [to, value, { in: [(from - to) / 3, 0] }],
    [60, value],
  ],
});
/** A value that comes with an ease, rests for a frame where it turns round, and leaves at full speed; or eases both ways. */
const hardTurn: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 150],
    [15, 150, { out: [7, 0] }],
    [35, 30, { in: [-7, 20], interpolation: "linear" }],
    [36, 30, { interpolation: "bezier", out: [5.333, 80] }],
    [52, 150, { in: [-5, 0] }],
    [60, 150],
  ],
};
const easedTurn: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 150],
    [15, 150, { out: [7, 0] }],
    [35, 30, { in: [-7, 0], out: [6, 0] }],
    [52, 150, { in: [-5, 0] }],
    [60, 150],
  ],
};
const swing = (keyed: Keyed) => () => chainDocument(1, { "joint_1 rotation.z": keyed });
const thigh = (keyed: Keyed) => () =>
  // High up and on its way, so that no foot stands on anything.
  bipedDocument({
    "hips translation.x": everyFrame(1, 60, (frame) => 0.01 * frame),
    "hips translation.y": everyFrame(1, 60, () => 1.2),
    "thigh_r rotation.x": keyed,
  });
/** An arm that turns while what carries it has been creeping. */
const carried = (own: Keyed) => () =>
  chainDocument(2, {
    "joint_1 rotation.z": everyFrame(1, 60, eased(12, 44, 0, 12)),
    "joint_2 rotation.z": own,
  });
const raised = (from: number) => ({ "upper_arm_l rotation.z": straight(from, from + 12, 60, 72) });
const held = (interpolation: "linear" | "step") => () =>
  pointDocument({
    "translation.x": [
      [1, 0],
      [12, 0.5, { interpolation }],
      [30, 0.5],
      [48, 1.5],
    ],
  });

const ridden = (own: Keyed) => () => riddenDocument(own);

export const hardStartExamples = defineExamples(hardStart, {
  faulty: [
    {
      title: "an arm that is at full speed as soon as it moves",
      motion: swing(thrown(12, 28, 150, 30)),
      right: swing(smooth(8, 28, 150, 30)),
      note: {
        node: "joint_1",
        frames: [12, 12],
        key: { node: "joint_1", channel: "rotation.z", frame: 12 },
        measured: atOnce,
      },
    },
    {
      title: "a thigh that swings at once",
      motion: thigh(thrown(14, 30, 0, -60)),
      right: thigh(smooth(10, 30, 0, -60)),
      note: {
        node: "thigh_r",
        frames: [14, 14],
        key: { node: "thigh_r", channel: "rotation.x", frame: 14 },
        measured: atOnce,
      },
    },
    {
      title: "a forearm that is at speed at once, though what carries it has been creeping",
      motion: carried(thrown(24, 36, 0, 110)),
      right: carried(smooth(18, 36, 0, 110)),
      note: {
        node: "joint_2",
        frames: [24, 24],
        key: { node: "joint_2", channel: "rotation.z", frame: 24 },
        // From what carries it, which goes at 0.6° a frame, to 18.2°.
        measured: (atOnce * 18.2) / (18.2 - 0.6),
      },
    },
    {
      title: "an arm that is at speed at once on a body that turns all the time",
      motion: ridden(thrown(24, 36, 0, 110)),
      right: ridden(smooth(18, 36, 0, 110)),
      note: {
        node: "joint_2",
        frames: [24, 24],
        key: { node: "joint_2", channel: "rotation.z", frame: 24 },
        measured: atOnce,
      },
    },
    {
      title: "an arm that comes with an ease, turns round within a frame, and leaves at full speed",
      motion: swing(hardTurn),
      right: swing(easedTurn),
      note: {
        node: "joint_1",
        frames: [36, 36],
        key: { node: "joint_1", channel: "rotation.z", frame: 36 },
        measured: atOnce,
      },
    },
  ],
  silent: [
    {
      title: "an arm that stays where it is when what carries it moves off at once",
      motion: () =>
        chainDocument(2, {
          "joint_1 rotation.z": smooth(10, 30, 150, 30),
          "joint_2 rotation.z": smooth(10, 30, -150, -30),
        }),
    },
    {
      title: "an eased move on every frame",
      motion: () => pathDocument(1, 48, (frame) => [eased(10, 30, 0, 1)(frame), 0, 0]),
    },
    {
      title: "an arm whose hand lets go of something there",
      motion: () => bipedDocument(raised(20), { more: { contacts: [{ node: "hand_l", frames: [1, 20] }] } }),
      unexcused: () => bipedDocument(raised(20)),
    },
    {
      title: "an arm whose hand catches a ball that flies",
      motion: () => withBall(raised(20), [20, 48]),
      unexcused: () => withBall(raised(20), [20, 48], false),
    },
    {
      title: "an arm that is thrown up by a landing",
      motion: () => jumpDocument({}, raised(jump().landing)),
      unexcused: () => bipedDocument(raised(jump().landing)),
    },
    { title: "a freeze by a step key that ends", motion: held("step"), unexcused: held("linear") },
    {
      title: "a range that starts while the part moves",
      motion: () => pointDocument({ "translation.x": straight(10, 24, 1) }, { range: [10, 60] }),
      unexcused: () => pointDocument({ "translation.x": straight(10, 24, 1) }),
    },
    {
      title: "an eased move on twos",
      motion: () => pointDocument({ "translation.x": onTwos(1, 47, eased(9, 33, 0, 1)) }, { range: [1, 48] }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "forearm_r",
    frames: [4, 7],
    slip: "as the dance begins the right elbow's first key leaves at full speed: its handle is steep, not level",
    edits: [
      (shot) =>
        rekeyed(shot, "forearm_r", "rotation.x", [
          { frame: 5, value: -22, leaves: -8 },
          { frame: 15, value: -62 },
          { frame: 22, value: -44 },
        ]),
    ],
  },
  picture: { draws: "path", node: "tip", seen: "front", frames: [7, 28] },
});
