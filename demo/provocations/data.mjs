// @ts-check
/** Slips of curves and data. */
import { keyAt, rekeyed } from "./keying.mjs";

/** @type {import("./older.mjs").Provocation[]} */
export const data = [
  {
    check: "rotation-flip",
    shot: "jetty_0040_v1",
    node: "head",
    frames: [1084, 1088],
    slip: "in the first version the head's heading is keyed on the wrong side of the circle",
  },
  {
    check: "gimbal-lock",
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [117, 136],
    slip: "the right palm is turned up by the middle axis of the wrist's order, and then keyed with the other two",
    edits: [
      (shot) => [
        ...rekeyed(shot, "hand_r", "rotation.z", [
          { frame: 109, value: 3 },
          { frame: 118, value: 86 },
          { frame: 136, value: 87 },
        ]),
        ...rekeyed(shot, "hand_r", "rotation.x", [
          { frame: 109, value: -7 },
          { frame: 117, value: -7 },
          { frame: 130, value: 50 },
          { frame: 136, value: 50 },
        ]),
        ...rekeyed(shot, "hand_r", "rotation.y", [
          { frame: 109, value: 0 },
          { frame: 117, value: 0 },
          { frame: 130, value: 52 },
          { frame: 136, value: 52 },
        ]),
      ],
    ],
  },
  {
    check: "overshoot",
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [127, 127],
    slip: "the right arm's last two keys have handles that are too long and point past them",
    edits: [
      () => {
        const key = /** @type {const} */ ({ kind: "set", node: "upper_arm_r", channel: "rotation.z" });
        return [
          { ...key, frame: 123, value: -67, handles: { out: [5, -8] } },
          { ...key, frame: 130, value: -70, handles: { in: [-5, -8] } },
        ];
      },
    ],
  },
  {
    check: "key-off-frame",
    shot: "quay_0070_v2",
    node: "head",
    frames: [122, 122],
    slip: "a key of the head slips to frame 122.4 as the timing is stretched",
    edits: [() => [{ kind: "move", node: "head", channel: "rotation.y", frame: 122, toFrame: 122.4 }]],
  },
  {
    check: "key-crowding",
    shot: "quay_0070_v2",
    node: "head",
    frames: [122, 122],
    slip: "a second key of the head is set a third of a frame behind the one at frame 122",
    edits: [
      (shot) =>
        rekeyed(shot, "head", "rotation.y", [
          keyAt(shot, "head", "rotation.y", 122),
          { frame: 122.3, value: 7.4, slope: 0.5 },
        ]),
    ],
  },
  {
    check: "idle-curve",
    shot: "quay_0070_v2",
    node: "head_end",
    frames: [1, 136],
    slip: "all channels of the head's end are keyed with each pose, and its size never changes",
    edits: [
      () =>
        [1, 40, 90, 136].map((frame) => ({
          kind: "set",
          node: "head_end",
          channel: "scale.x",
          frame,
          value: 1,
        })),
    ],
  },
];
