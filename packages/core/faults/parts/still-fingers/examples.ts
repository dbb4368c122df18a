import type { NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import {
  bipedFigure,
  bipedNodes,
  bipedWithout,
  type Curves,
  documentOf,
  eased,
  easedKeys,
  everyFrame,
} from "../../shared/examples/motions.ts";
import { stillFingers } from "./check.ts";

/** Fingers of one bone after the other, as one finger is seen from its side. */
const finger: readonly NodeSpec[] = [
  { id: "index_1_l", parent: "fingers_l", translation: [0.03, 0, 0] },
  { id: "index_2_l", parent: "index_1_l", translation: [0.03, 0, 0] },
  { id: "index_end_l", parent: "index_2_l", translation: [0.03, 0, 0] },
];
const parts = {
  ...bipedFigure.parts,
  leftFingers: ["fingers_l", "index_1_l", "index_2_l", "index_end_l"],
};

/** The biped, its left hand in contact with a load over some of its frames. */
const held =
  (curves: Curves, frames: readonly [number, number], last = 60) =>
  () =>
    documentOf([...bipedNodes, ...finger], curves, {
      range: [1, last],
      more: {
        figures: [{ ...bipedFigure, parts }],
        contacts: [{ node: "hand_l", frames: [...frames] }],
      },
    });
/** All joints of the finger curl by an angle between two frames. */
const curl = (from: number, to: number, angle: number, base = 0): Curves =>
  Object.fromEntries(
    ["fingers_l", "index_1_l", "index_2_l"].map((node) => [
      `${node} rotation.z`,
      easedKeys([1, 60], [from, to], -angle, -base),
    ]),
  );
const index: Curves = { "index_1_l rotation.z": easedKeys([1, 60], [24, 36], -2, -10) };

export const stillFingersExamples = defineExamples(stillFingers, {
  faulty: [
    {
      title: "a hand that takes a load, its fingers closing by two degrees",
      motion: held(curl(24, 36, 2, 8), [30, 41], 41),
      right: held(curl(24, 36, 32, 8), [30, 41], 41),
      note: {
        node: "hand_l",
        frames: [22, 38],
        key: { node: "fingers_l", channel: "rotation.z" },
        measured: 2,
      },
    },
    {
      title: "a hand that lets a load go, its fingers opening by two degrees",
      motion: held(curl(24, 36, -2, 30), [1, 30], 41),
      right: held(curl(24, 36, -30, 30), [1, 30], 41),
      note: {
        node: "hand_l",
        frames: [22, 38],
        key: { node: "fingers_l", channel: "rotation.z" },
        measured: 2,
      },
    },
    {
      title: "fingers that hardly answer on a hand that turns with its load",
      motion: held({ ...index, "hand_l rotation.z": easedKeys([1, 60], [20, 44], 50) }, [30, 60]),
      right: held(
        { ...curl(24, 36, 32, 8), "hand_l rotation.z": easedKeys([1, 60], [20, 44], 50) },
        [30, 60],
      ),
      note: {
        node: "hand_l",
        frames: [22, 38],
        key: { node: "index_1_l", channel: "rotation.z" },
        measured: 2,
      },
    },
    {
      title: "fingers without keys on a hand that turns with its load",
      motion: held({ "hand_l rotation.z": easedKeys([1, 60], [20, 44], 50) }, [30, 60]),
      note: {
        node: "hand_l",
        frames: [22, 38],
        key: { node: "hand_l", channel: "rotation.z" },
        measured: 0,
      },
    },
  ],
  silent: [
    {
      title: "fingers that close on a load and open again",
      motion: held(
        {
          "index_1_l rotation.z": everyFrame(
            1,
            60,
            (frame) => eased(15, 22, 0, -30)(frame) - eased(43, 50, 0, -30)(frame),
          ),
        },
        [20, 45],
      ),
    },
    { title: "a contact that lasts through the whole range", motion: held({}, [1, 60]) },
    {
      title: "a hand without finger joints",
      motion: () =>
        bipedWithout(
          /fingers/,
          { "hand_l rotation.z": easedKeys([1, 60], [20, 44], 50) },
          { more: { contacts: [{ node: "hand_l", frames: [30, 60] }] } },
        ),
    },
  ],
  provocation: {
    shot: "steps_0110_v2",
    node: "hand_r",
    frames: [90, 106],
    slip: "the right hand lets go of the crate at frame 98 and sinks, its fingers shut as if they held it",
    edits: [
      (shot) =>
        reaching(shot, {
          limb: ["upper_arm_r", "forearm_r", "hand_r"],
          frames: [98, 118],
          to: ([x, y, z], frame) => {
            const gone = eased(98, 110, 0, 12)(frame);
            return [x, y - gone, z - gone];
          },
        }),
    ],
    // The contact is declared, and ends as the hand leaves.
    replace: [
      '"node": "hand_r", "with": "crate", "frames": [1, 118]',
      '"node": "hand_r", "with": "crate", "frames": [1, 98]',
    ],
  },
  picture: {
    draws: "figure",
    seen: "front",
    at: [22, 38],
    only: ["hand_l"],
    marks: ["fingers_l", "index_1_l", "index_2_l"],
  },
});
