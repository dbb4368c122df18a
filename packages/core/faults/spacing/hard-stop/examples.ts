import { defineExamples } from "../../shared/examples/example.ts";
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
import { hardStop } from "./check.ts";

/** Frames from 80 % of the speed to 10 %, where a step at full speed is followed by rest: 0.7 of that step. */
const atOnce = 0.7;

/** A value that gathers speed evenly from rest at a frame, and stops dead at another. */
const dead = (from: number, to: number, at: number, value: number): Keyed => ({
  interpolation: "bezier",
  keys: [
    [1, at],
    [from, at, { out: [(to - from) / 3, 0] }],
    [to, value, { in: [(from - to) / 3, (-2 / 3) * (value - at)], interpolation: "linear" }],
    [60, value],
  ],
});
/** A value that rushes, goes on at a third of that pace, and stops dead or eases over so many frames. */
const slowed = (ease: number) =>
  everyFrame(1, 60, (frame) => {
    const within = (from: number, frames: number) => Math.min(Math.max(frame - from, 0), frames);
    const late = within(26, ease);
    return 6 * within(8, 8) + 2 * within(16, 10) + (ease > 0 ? 2 * late - late ** 2 / ease : 0);
  });
/** A value that gathers speed, stops dead for a frame, and sets out again at a fifth of its pace. */
const hardTurn: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 150],
    [8, 150, { out: [5, 0] }],
    [24, 30, { in: [-5.333, 80], interpolation: "linear" }],
    [25, 30, { interpolation: "bezier", out: [7, 20] }],
    [45, 150, { in: [-7, 0] }],
    [60, 150],
  ],
};
const easedTurn: Keyed = {
  interpolation: "bezier",
  keys: [
    [1, 150],
    [8, 150, { out: [5, 0] }],
    [25, 30, { in: [-6, 0], out: [7, 0] }],
    [45, 150, { in: [-7, 0] }],
    [60, 150],
  ],
};
/** Degrees by which a recorded joint is off from frame to frame, but for the frames about its turn-round. */
const rough = (frame: number) => (frame > 15 && frame < 34 ? 0 : 8 * Math.sin(12.9898 * frame ** 2));
/** A recorded swing that stops dead for a frame where it turns round. */
const recorded = (noise: number) =>
  everyFrame(1, 96, (frame) => {
    const out = frame < 24 ? 150 - 120 * (Math.max(0, frame - 8) / 16) ** 2 : 30;
    const back = Math.min(Math.max(0, frame - 25), 16);
    return out + 3 * back + 0.28 * back ** 2 + noise * rough(frame);
  });
const swing = (keyed: Keyed) => () => chainDocument(1, { "joint_1 rotation.z": keyed });
/** A body that bobs by 4 cm all along while it goes its way. */
const bobbing = (way: Keyed) => () =>
  bipedDocument({
    "hips translation.z": way,
    "hips translation.y": everyFrame(1, 60, (frame) => 0.9 + 0.02 * Math.sin(frame / 3)),
  });
/** A body whose hips come down on a seat, as the document says. */
const seated = (way: Keyed) => () =>
  bipedDocument(
    { "hips translation.y": way },
    { more: { contacts: [{ node: "hips", with: "chair", frames: [44, 60] }] } },
  );
const head = (keyed: Keyed) => () => bipedDocument({ "head rotation.y": keyed });
/** An arm that turns while what carries it creeps on. */
const carried = (own: Keyed) => () =>
  chainDocument(2, {
    "joint_1 rotation.z": everyFrame(1, 60, eased(4, 36, 0, 12)),
    "joint_2 rotation.z": own,
  });
const ridden = (own: Keyed) => () => riddenDocument(own);
const lowered = (to: number) => ({ "upper_arm_l rotation.z": straight(to - 12, to, -80, 72) });
const held = (interpolation: "linear" | "step") => () =>
  pointDocument({
    "translation.x": [
      [1, 0],
      [24, 1, { interpolation }],
      [40, 1],
      [60, 2],
    ],
  });

export const hardStopExamples = defineExamples(hardStop, {
  faulty: [
    {
      title: "an arm that swings ever faster and stops dead",
      motion: swing(dead(8, 24, 150, 30)),
      right: swing(smooth(8, 28, 150, 30)),
      note: {
        node: "joint_1",
        frames: [24, 24],
        key: { node: "joint_1", channel: "rotation.z", frame: 24 },
        measured: atOnce,
      },
    },
    {
      title: "an arm that has slowed to a third, keeps that pace, and stops dead",
      motion: swing(slowed(0)),
      right: swing(slowed(8)),
      note: {
        node: "joint_1",
        frames: [26, 26],
        key: { node: "joint_1", channel: "rotation.z", frame: 26 },
        measured: atOnce,
      },
    },
    {
      title: "a head that stops turning, though it does not travel",
      motion: head(dead(10, 26, 0, 50)),
      right: head(smooth(10, 30, 0, 50)),
      note: {
        node: "head",
        frames: [26, 26],
        key: { node: "head", channel: "rotation.y", frame: 26 },
        measured: atOnce,
      },
    },
    {
      title: "a forearm that stops dead, though what carries it creeps on for some frames",
      motion: carried(dead(12, 24, 0, 110)),
      right: carried(smooth(12, 30, 0, 110)),
      note: {
        node: "joint_2",
        frames: [24, 24],
        key: { node: "joint_2", channel: "rotation.z", frame: 24 },
        // From 18.2° a frame to what carries it, which goes on at 0.6°.
        measured: (atOnce * 18.2) / (18.2 - 0.6),
      },
    },
    {
      title: "an arm that stops dead on a body that turns on",
      motion: ridden(dead(12, 24, 0, 110)),
      right: ridden(smooth(12, 30, 0, 110)),
      note: {
        node: "joint_2",
        frames: [24, 24],
        key: { node: "joint_2", channel: "rotation.z", frame: 24 },
        measured: atOnce,
      },
    },
    {
      title:
        "an arm that stops dead for a frame where it turns round, and sets out again at a fifth of its pace",
      motion: swing(hardTurn),
      right: swing(easedTurn),
      note: {
        node: "joint_1",
        frames: [24, 24],
        key: { node: "joint_1", channel: "rotation.z", frame: 24 },
        measured: atOnce,
      },
    },
    {
      title: "a body that goes its way, stops dead, and bobs on",
      motion: bobbing(dead(8, 26, 0, 1.2)),
      right: bobbing(smooth(8, 30, 0, 1.2)),
      note: {
        node: "hips",
        frames: [26, 26],
        key: { node: "hips", channel: "translation.z", frame: 26 },
        measured: atOnce,
      },
    },
    {
      title: "hips that stop dead on the seat on which they come down",
      motion: seated(dead(8, 44, 0.9, 0.6)),
      right: seated(smooth(8, 44, 0.9, 0.6)),
      note: {
        node: "hips",
        frames: [44, 44],
        key: { node: "hips", channel: "translation.y", frame: 44 },
        measured: atOnce,
      },
      unfixed: "what is declared to rest on a seat keeps its place from there on",
    },
    {
      title: "a point on twos that stops dead",
      motion: () =>
        pointDocument(
          { "translation.x": onTwos(1, 59, (frame) => Math.min(1.5, Math.max(0, 0.05 * (frame - 11)))) },
          { range: [1, 60] },
        ),
      right: () =>
        pointDocument({ "translation.x": onTwos(1, 59, eased(11, 45, 0, 1.5)) }, { range: [1, 60] }),
      note: {
        node: "point",
        frames: [41, 41],
        key: { node: "point", channel: "translation.x" },
        measured: 2 * atOnce,
      },
    },
  ],
  silent: [
    {
      title:
        "an arm that stops dead for a frame where it turns round, and changes its speed as much all the time",
      motion: swing(recorded(1)),
      unexcused: swing(recorded(0)),
    },
    {
      title:
        "an arm that stays where it is when what carries it stops dead: it turns against it, the world does not see it",
      motion: () =>
        chainDocument(2, {
          "joint_1 rotation.z": smooth(8, 28, 150, 30),
          "joint_2 rotation.z": smooth(8, 28, -150, -30),
        }),
    },
    {
      title: "an arm that leaves its place for two frames and comes back: that is a pop",
      motion: swing([
        [1, 0],
        [24, 0],
        [25, 20],
        [26, 20],
        [27, 0],
        [60, 0],
      ]),
    },
    {
      title: "an eased move on every frame",
      motion: () => pathDocument(1, 48, (frame) => [eased(10, 30, 0, 1)(frame), 0, 0]),
    },
    {
      title: "an arm whose hand meets a table there",
      motion: () =>
        bipedDocument(lowered(20), {
          more: { contacts: [{ node: "hand_l", with: "table", frames: [20, 48] }] },
        }),
      unexcused: () =>
        bipedDocument(lowered(20), {
          more: { contacts: [{ node: "hand_l", with: "table", frames: [30, 48] }] },
        }),
    },
    {
      title: "an arm that is stopped by a landing",
      motion: () => jumpDocument({}, lowered(jump().landing)),
      unexcused: () => bipedDocument(lowered(jump().landing)),
    },
    { title: "a freeze by a step key", motion: held("step"), unexcused: held("linear") },
    {
      title: "a range that ends while the part moves",
      motion: () => pointDocument({ "translation.x": straight(10, 24, 1) }, { range: [1, 24] }),
      unexcused: () => pointDocument({ "translation.x": straight(10, 24, 1) }),
    },
    {
      title: "an eased move on twos",
      motion: () => pointDocument({ "translation.x": onTwos(1, 47, eased(9, 33, 0, 1)) }, { range: [1, 48] }),
    },
    {
      title: "a slow drift that ends",
      motion: () => pointDocument({ "translation.x": straight(10, 49, 0.2) }),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "hips",
    frames: [41, 41],
    slip: "in the first version the turn of the hips ends on one frame",
  },
  picture: { draws: "path", node: "tip", seen: "front", frames: [8, 29] },
});
