// @ts-check
/** Slips of spacing and timing. */
import { keyAt, onEveryFrame, rekeyed, valueIn } from "./keying.mjs";

/** @type {import("./older.mjs").Provocation[]} */
export const spacing = [
  {
    check: "jitter",
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [7, 36],
    slip: "through the turn the right arm has a key on every frame, as taken from a capture, with its noise left in",
    edits: [
      (shot) =>
        onEveryFrame(shot, "upper_arm_r", "rotation.x", 8, 36, (value, frame) => {
          const off = 0.8 + 0.5 * Math.sin(1.7 * frame);
          return value + (frame % 2 === 0 ? -off : off);
        }),
    ],
  },
  {
    check: "frozen-hold",
    shot: "quay_0070_v2",
    node: "fingers_end_l",
    frames: [110, 117],
    slip: "a hold of seven frames is put in after the landing: the pose is copied, and nothing drifts on",
    edits: [
      (shot) =>
        shot.curves.flatMap(({ node, channel, frames }) =>
          Array.from(frames)
            .filter((frame) => frame > 110)
            .map((frame) => ({ kind: "move", node, channel, frame, toFrame: frame + 7 })),
        ),
      (shot, before) =>
        shot.curves.flatMap(({ node, channel }) => {
          const key = keyAt(before, node, channel, 110);
          return rekeyed(shot, node, channel, [
            { ...key, interpolation: "linear" },
            { ...key, frame: 117 },
          ]);
        }),
    ],
    replace: ['"range": [1, 136]', '"range": [1, 143]'],
  },
  {
    check: "same-frame",
    shot: "quay_0070_v2",
    node: "hips",
    frames: [126, 126],
    slip: "the last pose is keyed whole: every part above the legs goes into it from frame 116 to frame 126",
    edits: [
      (shot) =>
        shot.curves.filter(isAboveTheLegs).flatMap(({ node, channel }) => {
          const value = valueIn(shot, node, channel, 112);
          const posed = value + (lastPose[`${node} ${channel}`] ?? 0);
          return rekeyed(shot, node, channel, [
            keyAt(shot, node, channel, 106),
            { frame: 112, value },
            { frame: 116, value },
            { frame: 126, value: posed },
            { frame: 136, value: posed },
          ]);
        }),
    ],
  },
];

/** What the last pose adds, in degrees. @type {Readonly<Record<string, number>>} */
const lastPose = {
  "spine rotation.y": -10,
  "chest rotation.x": 14,
  "head rotation.x": -22,
  "upper_arm_l rotation.x": -35,
  "upper_arm_r rotation.x": -30,
  "forearm_l rotation.x": -40,
  "forearm_r rotation.x": -25,
};

/** @param {{ readonly node: string, readonly channel: string }} curve */
function isAboveTheLegs({ node, channel }) {
  if (node === "hips") return channel.startsWith("rotation");
  return !/hair|thigh|shin|foot|toe|fingers/.test(node);
}
