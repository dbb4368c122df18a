import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  along,
  bipedDocument,
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  everyFrame,
  type Keyed,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { armAlong, bowed, ledHand, onLine, rested } from "../shared/led-hands.ts";
import { straightPath } from "./check.ts";

const reach = eased(10, 30, 0, 1);
/** A wrist that is led from beside the thigh to over the shoulder, on a way that bows by a share of its length. */
const led =
  (bow: number, curves: Curves = {}, more: Partial<CurveDocument> = {}) =>
  () =>
    bipedDocument(
      { ...armAlong((frame) => onLine(reach(frame), bow * bowed(reach(frame)))), ...curves },
      { more },
    );
/** The biped with the end of a limb cut loose from it: it is keyed by its own translation, as one on a handle is. */
const loose = (end: string, curves: Curves) =>
  documentOf(
    bipedNodes.map((node) => (node.id === end ? { ...node, parent: "hips" } : node)),
    curves,
    { more: { figures: [bipedFigure] } },
  );
/** Keys of a move within frames 10 to 30, with a breakdown where there is one. */
const keys = (from: number, to: number, breakdown?: number): Keyed => ({
  interpolation: "smooth",
  keys: [
    [1, from],
    [10, from],
    ...(breakdown === undefined ? [] : [[20, breakdown] as [number, number]]),
    [30, to],
    [60, to],
  ],
});
const handle = (aside = 0) =>
  loose("hand_l", {
    "hand_l translation.x": keys(0.4, 0.6, aside === 0 ? undefined : 0.5 + aside),
    "hand_l translation.y": keys(0.1, 0.6),
    "hand_l translation.z": keys(0.3, 0.3),
  });
const kick = (bow: number) =>
  loose(
    "foot_r",
    along("foot_r", 1, 60, (frame) => {
      const gone = reach(frame);
      return [-0.1 - bow * bowed(gone), -0.5 + 0.2 * gone, 0.6 * gone];
    }),
  );

const unfixed =
  "The fix turns the joints above the end of a limb; this one is keyed by its own place and hangs on the hips alone.";

export const straightPathExamples = defineExamples(straightPath, {
  faulty: [
    {
      title: "a wrist that is pulled along a line",
      motion: led(0.005),
      right: led(0.12),
      note: {
        node: "hand_l",
        frames: [11, 29],
        key: [
          { node: "upper_arm_l", channel: "rotation.z" },
          { node: "forearm_l", channel: "rotation.z" },
        ],
        measured: 0.005,
      },
    },
    {
      title: "a hand on a handle that goes from one key to the next",
      motion: () => handle(),
      right: () => handle(0.08),
      note: {
        node: "hand_l",
        frames: [10, 30],
        key: { node: "hand_l", channel: "translation.y", frame: 10 },
        measured: 0,
      },
      unfixed,
    },
    {
      title: "a foot on a handle, keyed on every frame",
      motion: () => kick(0),
      right: () => kick(0.06),
      note: {
        node: "foot_r",
        frames: [11, 29],
        key: { node: "foot_r", channel: "translation.z" },
        measured: 0,
      },
      unfixed,
    },
  ],
  silent: [
    { title: "an arc", motion: led(0.12) },
    { title: "a way that bows by a twentieth", motion: led(0.05) },
    {
      title: "an arm that swings",
      motion: () =>
        bipedDocument({ "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => -60 * reach(frame)) }),
    },
    { title: "a walk", motion: () => walkDocument() },
    {
      title: "a hand that slides in a contact",
      motion: led(0, {}, { contacts: [{ node: "hand_l", with: "table", frames: [8, 32], slides: true }] }),
      unexcused: led(0),
    },
    {
      title: "a hand that the body carries as far",
      motion: led(0, { "hips translation.z": everyFrame(1, 60, (frame) => 0.8 * reach(frame)) }),
      unexcused: led(0),
    },
    {
      title: "a punch that a waiver lets through",
      motion: led(0, {}, { waivers: [{ check: "straight-path", node: "hand_l", reason: "It is a punch." }] }),
      unexcused: led(0),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hand_r",
    frames: [121, 133],
    slip: "after the landing the right wrist is pulled before the chest by two keys of its handle, along a line",
    edits: [
      (shot) =>
        ledHand(shot, [-18, 125, 38], (frame) => ({
          gone: eased(rested, rested + 12, 0, 1)(frame),
          raised: 0,
        })),
    ],
  },
  picture: {
    draws: "path",
    node: "hand_l",
    seen: "front",
    frames: [10, 30],
    at: [10, 20, 30],
    only: ["upper_arm_l"],
  },
});
