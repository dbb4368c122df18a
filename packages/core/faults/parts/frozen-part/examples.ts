import type { Shot } from "../../../document/model.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame, valueIn } from "../../shared/examples/keying.ts";
import { bipedDocument, type Curves, documentOf, everyFrame } from "../../shared/examples/motions.ts";
import { frozenPart } from "./check.ts";

type Clock = (frame: number) => number;

/** A sway of so many degrees within 40 frames, by a clock. */
const sway = (angle: number, clock: Clock, middle = 0) =>
  everyFrame(1, 96, (frame) => middle + angle * Math.sin((2 * Math.PI * clock(frame)) / 40));
const on: Clock = (frame) => frame;
/** A clock that stands from frame 40 for so many frames: at the middle of a sway, where it is quickest. */
const standing =
  (frames: number): Clock =>
  (frame) =>
    frame <= 40 ? frame : Math.max(40, frame - frames);

/** The same, but that it creeps on by a share of its pace for 24 frames. */
const creeping =
  (share: number): Clock =>
  (frame) =>
    frame <= 40 ? frame : frame <= 64 ? 40 + share * (frame - 40) : frame - 24 + 24 * share;

/** The biped whose trunk, arm and head sway, each by its own clock. */
const figure =
  (
    { trunk = on, arm = on, head = on }: Partial<Record<"trunk" | "arm" | "head", Clock>>,
    more: Curves = {},
  ) =>
  () =>
    bipedDocument({
      "chest rotation.y": sway(12, trunk),
      "upper_arm_l rotation.z": sway(15, arm, -50),
      "forearm_l rotation.y": sway(10, (frame) => arm(frame) - 2, -20),
      "hand_l rotation.z": sway(8, (frame) => arm(frame) - 4),
      "hand_l rotation.y": sway(6, (frame) => arm(frame) - 4),
      "upper_arm_r rotation.z": sway(15, trunk, 50),
      "head rotation.y": sway(12, head),
      ...more,
    });

/** Hips that bob and turn, a head that nods, and an arm that waves all the while; the trunk by a clock of its own. */
const bobbing = (trunk: Clock, arms: Curves) => () =>
  bipedDocument({
    "hips translation.y": everyFrame(
      1,
      96,
      (frame) => 0.95 + 0.03 * Math.sin((2 * Math.PI * trunk(frame)) / 40),
    ),
    "hips rotation.y": sway(12, trunk),
    "head rotation.x": sway(8, trunk),
    ...arms,
  });
const waving: Curves = {
  "upper_arm_l rotation.z": sway(20, on, -40),
  "upper_arm_r rotation.z": sway(20, on, 40),
};

const held =
  (motion: () => CurveDocument, frames: [number, number] = [36, 70]) =>
  () => ({ ...motion(), contacts: [{ node: "hand_l", frames }] });

/** A body that sways as one piece, and a tail on it that swings. */
const toyWithTail = (): CurveDocument => {
  const { nodes, curves, ...document } = bipedDocument({ "hips rotation.y": sway(40, on) });
  return {
    ...document,
    nodes: [
      ...nodes,
      { id: "tail_1", parent: "hips", translation: [0, 0, -0.1] },
      { id: "tail_2", parent: "tail_1", translation: [0, 0, -0.2] },
    ],
    curves: [...curves, { node: "tail_1", channel: "rotation.y", keys: sway(30, (frame) => frame - 4) }],
  };
};

/** A thing with two feelers on its head, of which the right one turns by so much, and both by a clock of their own. */
const feelers = (
  right: number,
  clock: Clock = on,
  moves: readonly [number, number] = [1, 96],
): CurveDocument => {
  const feeler = (side: string, x: number) => [
    { id: `feeler_${side}`, parent: "body", translation: [x, 0.1, 0] as [number, number, number] },
    {
      id: `feeler_${side}_tip`,
      parent: `feeler_${side}`,
      translation: [0, 0.2, 0] as [number, number, number],
    },
  ];
  const flick = (angle: number, late: number) =>
    everyFrame(1, 96, (frame) => {
      const at = Math.max(moves[0], Math.min(moves[1], frame));
      return angle * Math.sin((2 * Math.PI * clock(at - late)) / 24);
    });
  return documentOf(
    [{ id: "body" }, ...feeler("l", -0.05), ...feeler("r", 0.05)],
    {
      "feeler_l rotation.z": flick(20, 0),
      "feeler_r rotation.z": flick(right, 3),
    },
    { range: [1, 96] },
  );
};

export const frozenPartExamples = defineExamples(frozenPart, {
  faulty: [
    {
      title: "an arm that stops dead for a second on a body that sways on",
      motion: figure({ arm: standing(24) }),
      right: figure({}),
      note: {
        node: "upper_arm_l",
        frames: [40, 64],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 24,
      },
    },
    {
      title: "an arm that creeps by a fifteenth of a degree a frame for a second on a body that sways on",
      motion: figure({ arm: creeping(0.03) }),
      right: figure({}),
      note: {
        node: "upper_arm_l",
        frames: [40, 64],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 24,
      },
    },
    {
      title: "a head that stops dead for 16 frames",
      motion: figure({ head: standing(16) }),
      right: figure({}),
      note: { node: "head", frames: [40, 56], key: { node: "head", channel: "rotation.y" }, measured: 16 },
    },
    {
      title: "an arm that never moves on a body that sways for four seconds",
      motion: figure({ arm: () => 0 }),
      right: figure({}),
      note: {
        node: "upper_arm_l",
        frames: [1, 96],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: 0,
      },
      unfixed: "what an arm that was never animated is to do, nobody can tell from its body",
    },
    {
      title: "a feeler that never moves while the other one feels about",
      motion: () => feelers(0),
      right: () => feelers(20),
      unfixed: "how a part acts that was never animated is for whoever animates it",
      note: {
        node: "feeler_r",
        frames: [1, 96],
        key: { node: "feeler_r", channel: "rotation.z" },
        measured: 0,
      },
    },
    {
      title: "hips, trunk and head that stand still for half a second while the arms wave on",
      motion: bobbing(standing(12), waving),
      right: bobbing(on, waving),
      note: { node: "hips", frames: [40, 52], key: { node: "hips", channel: "rotation.y" }, measured: 12 },
      unfixed: "where the body is to be meanwhile is a pose, and a pose is not to be guessed",
    },
  ],
  silent: [
    {
      title: "an arm that is held and drifts on by a quarter of a degree a frame",
      motion: figure({ arm: creeping(0.12) }),
      unexcused: figure({ arm: creeping(0.03) }),
    },
    {
      title: "a feeler that rests while the other one flicks for a second",
      motion: () => feelers(0, on, [25, 49]),
      unexcused: () => feelers(0),
    },
    { title: "an arm that waits for a third of a second", motion: figure({ arm: standing(8) }) },
    {
      title: "a body that stops with its arm",
      motion: figure({ arm: standing(24), trunk: standing(24), head: standing(24) }),
      unexcused: figure({ arm: standing(24) }),
    },
    {
      title: "an arm that never moves, and whose hand a contact holds",
      motion: held(figure({ arm: () => 0 }), [1, 96]),
      unexcused: figure({ arm: () => 0 }),
    },
    {
      title: "a body of which nothing acts: it is moved about as a toy is",
      motion: () => bipedDocument({ "hips rotation.y": sway(40, on) }),
    },
    { title: "such a body with a tail that swings: what hangs loose does not act", motion: toyWithTail },
    {
      title: "a trunk that stands still for a quarter of a second while the arms wave on",
      motion: bobbing(standing(6), waving),
    },
    {
      title: "an arm whose hand a contact holds",
      motion: held(figure({ arm: standing(24) })),
      unexcused: figure({ arm: standing(24) }),
    },
    {
      title: "an arm in poses by step keys",
      motion: figure(
        {},
        Object.fromEntries(
          ["upper_arm_l rotation.z", "forearm_l rotation.y", "hand_l rotation.z"].map((name) => [
            name,
            {
              interpolation: "step" as const,
              keys: [1, 25, 49, 73].map((frame, k): [number, number] => [frame, -20 - 15 * (k % 2)]),
            },
          ]),
        ),
      ),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [47, 63],
    slip: "neck and head keep one pose for 16 frames while the trunk turns, as keys do that were copied forward",
    edits: ["neck", "head"].flatMap((node) =>
      (["rotation.x", "rotation.y", "rotation.z"] as const).map(
        (channel) => (shot: Shot) =>
          onEveryFrame(shot, node, channel, 47, 63, () => valueIn(shot, node, channel, 47)),
      ),
    ),
  },
  picture: { draws: "figure", seen: "front", at: [34, 40, 52, 64, 70], only: ["upper_arm_l"] },
});
