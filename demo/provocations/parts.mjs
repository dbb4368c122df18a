// @ts-check
/** Slips of parts against each other. */
import { eased, rekeyed, revalued } from "./keying.mjs";
import { reaching } from "./limbs.mjs";

/** @type {import("./older.mjs").Provocation[]} */
export const parts = [
  {
    check: "twinning",
    shot: "quay_0070_v1",
    node: "upper_arm_r",
    frames: [6, 22],
    slip: "in the first version the right arm's keys are the left arm's, mirrored",
  },
  {
    check: "no-drag",
    shot: "jetty_0040_v1",
    node: "tail_1",
    frames: [1001, 1111],
    slip: "in the first version the tail has no keys: it is stuck to the body",
  },
  {
    check: "still-wrist",
    shot: "quay_0070_v1",
    node: "hand_l",
    frames: [5, 79],
    slip: "in the first version the left wrist has no keys",
  },
  {
    check: "still-fingers",
    shot: "steps_0110_v2",
    node: "hand_r",
    frames: [90, 106],
    slip: "the right hand lets go of the crate at frame 98 and sinks, its fingers shut as if they held it",
    edits: [
      (shot) =>
        reaching(shot, "arm", "r", 98, 118, ([x, y, z], frame) => {
          const gone = 12 * eased((frame - 98) / 12);
          return [x, y - gone, z - gone];
        }),
    ],
    // The contact is declared, and ends as the hand leaves.
    replace: [
      '"node": "hand_r", "with": "crate", "frames": [1, 118]',
      '"node": "hand_r", "with": "crate", "frames": [1, 98]',
    ],
  },
  {
    check: "competing-moves",
    shot: "jetty_0040_v2",
    node: "rope",
    frames: [1025, 1025],
    slip: "the rope falls onto the post on the frames on which the heron, still far off, darts forward",
    edits: [
      (shot) => [
        ...revalued(shot, "body", "translation.z", 1001, 1023, (value) => value - 12),
        ...rekeyed(shot, "rope", "translation.y", [
          { frame: 1001, value: 196 },
          { frame: 1018, value: 196 },
          { frame: 1032, value: 136 },
          { frame: 1096, value: 136 },
        ]),
      ],
    ],
  },
  {
    check: "raised-shoulders",
    shot: "quay_0070_v2",
    node: "shoulder_l",
    frames: [1, 136],
    slip: "all keys of the left shoulder are 14° too high, as from a start pose that was never let down",
    edits: [(shot) => revalued(shot, "shoulder_l", "rotation.z", 1, 136, (value) => value + 14)],
  },
];
