// @ts-check
/** Slips of paths. */
import { eased, rekeyed, valueIn } from "./keying.mjs";
import { posesOf, reaching } from "./limbs.mjs";

/** @typedef {import("./keying.mjs").Shot} Shot */

/** @type {import("./older.mjs").Provocation[]} */
export const paths = [
  {
    check: "retraced-path",
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [121, 133],
    slip: "after the landing the right hand goes before the chest and back, the way back copied from the way out",
    edits: [
      (shot) =>
        fromRest(shot, [-20, 120, 36], (frame) => {
          const gone = eased((frame - rested) / 6) - eased((frame - rested - 6) / 6);
          // Both ways bow alike.
          return { gone, raised: 40 * gone * (1 - gone) };
        }),
    ],
  },
  {
    check: "straight-path",
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [121, 133],
    slip: "after the landing the right wrist is pulled before the chest by two keys of its handle, along a line",
    edits: [
      (shot) =>
        fromRest(shot, [-18, 125, 38], (frame) => ({ gone: eased((frame - rested) / 12), raised: 0 })),
    ],
  },
  {
    check: "kinked-path",
    shot: "quay_0070_v2",
    node: "upper_arm_r",
    frames: [116, 116],
    slip: "the right arm's lift ends on the frame on which its swing forward begins, both at speed",
    edits: [
      (shot) => {
        const [swing, lift] = [108, 108].map((frame, n) =>
          valueIn(shot, "upper_arm_r", n === 0 ? "rotation.x" : "rotation.z", frame),
        );
        return [
          ...rekeyed(shot, "upper_arm_r", "rotation.z", [
            { frame: 108, value: lift },
            { frame: 110, value: lift - 4, slope: -5, interpolation: "linear" },
            { frame: 116, value: lift - 40, slope: -6, leaves: 0 },
            { frame: 136, value: lift - 40 },
          ]),
          ...rekeyed(shot, "upper_arm_r", "rotation.x", [
            { frame: 108, value: swing },
            { frame: 116, value: swing, interpolation: "linear" },
            { frame: 121, value: swing - 34, slope: -7 },
            { frame: 127, value: swing - 50 },
            { frame: 136, value: swing - 50 },
          ]),
        ];
      },
    ],
  },
];

/** The frame up to which the right hand rests, before it is led on. */
const rested = 121;

/**
 * The dancer's right hand comes to rest after the landing, and is then led to another place.
 * @param {Shot} shot @param {number[]} goal world place, centimetres
 * @param {(frame: number) => { gone: number, raised: number }} way share of the way that is gone, and centimetres over it
 */
function fromRest(shot, goal, way) {
  const rest = posesOf(shot)("hand_r", 119).position;
  return reaching(shot, "arm", "r", 113, 136, (place, frame) => {
    if (frame <= rested) return mixed(place, rest, eased((frame - 112) / 7));
    const { gone, raised } = way(frame);
    const [x, y, z] = mixed(rest, goal, gone);
    return [x, y + raised, z];
  });
}

/** @param {number[]} a @param {number[]} b @param {number} share */
const mixed = (a, b, share) => a.map((value, axis) => value + (b[axis] - value) * share);
