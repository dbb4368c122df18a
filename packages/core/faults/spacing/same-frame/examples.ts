import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed, valueIn } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  type Curves,
  documentOf,
  jump,
  jumpDocument,
  type Keyed,
  smooth,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { sameFrame } from "./check.ts";

const turns: Readonly<Record<string, number>> = {
  "hips rotation.y": 20,
  "chest rotation.y": 25,
  "head rotation.y": 30,
  "upper_arm_l rotation.z": -50,
  "forearm_l rotation.y": -40,
  "upper_arm_r rotation.z": 45,
  "forearm_r rotation.y": 35,
};
/** Moves as different in size as a body makes them. */
const unlike = Object.fromEntries(
  Object.keys(turns).map((name, part) => [name, [8, 12, 20, -110, -80, 100, 60][part]]),
);
type Time = (part: number) => number;

/** Seven parts that turn on smooth keys, each from its own frame to its own frame. */
function turning(start: Time, end: Time, angles = turns): Curves {
  return Object.fromEntries(
    Object.entries(angles).map(([name, angle], part): [string, Keyed] => [
      name,
      smooth(start(part), end(part), 0, angle, 72),
    ]),
  );
}
const body =
  (...moves: Parameters<typeof turning>) =>
  () =>
    bipedDocument(turning(...moves));
const all =
  (frame: number): Time =>
  () =>
    frame;
const oneByOne =
  (frame: number, by: number): Time =>
  (part) =>
    frame + by * part;
const oneIsLate =
  (frame: number): Time =>
  (part) =>
    part === 3 ? frame + 5 : frame;
const keysAt = (frame: number) =>
  Object.keys(turns).map((name) => {
    const [node, channel] = name.split(" ") as [string, CurveDocument["curves"][number]["channel"]];
    return { node, channel, frame };
  });
const blocked = Object.fromEntries(
  Object.entries(turns).map(([name, angle]): [string, Keyed] => [
    name,
    {
      interpolation: "step",
      keys: Array.from({ length: 6 }, (_, i): [number, number] => [1 + 12 * i, (i % 3) * angle]),
    },
  ]),
);
const four = (curves: Curves) => Object.fromEntries(Object.entries(curves).slice(0, 4));
const props = (start: Time) =>
  documentOf(
    Object.keys(turns).map((_, i) => ({ id: `box_${i}`, translation: [i, 0, 0] as const })),
    Object.fromEntries(
      Object.values(turning(start, oneByOne(40, 3))).map((keyed, i) => [`box_${i} rotation.y`, keyed]),
    ),
  );

export const sameFrameExamples = defineExamples(sameFrame, {
  faulty: [
    {
      title: "a body of which all parts start on one frame and arrive on one frame",
      motion: body(all(20), all(40)),
      right: body(oneByOne(20, 2), oneByOne(40, 2)),
      // Smooth keys have a tenth of their peak speed in the second frame.
      note: { node: "hips", frames: [21, 39], key: keysAt(20), measured: 1 },
    },
    {
      title: "small and large moves that start and arrive as one",
      motion: body(all(20), all(40), unlike),
      right: body(all(20), oneByOne(40, 2), unlike),
      note: { node: "hips", frames: [21, 39], key: keysAt(20), measured: 1 },
    },
    {
      title: "a body of which six parts of seven start and arrive as one",
      motion: body(oneIsLate(20), oneIsLate(40)),
      right: body(oneByOne(20, 2), all(40)),
      note: { node: "hips", frames: [21, 39], key: keysAt(20), measured: 6 / 7 },
    },
    {
      title: "parts that are off by a frame",
      motion: body(
        (part) => 20 + (part % 2),
        (part) => 40 + (part % 2),
      ),
      right: body(
        (part) => 20 + 3 * (part % 2),
        (part) => 40 + 3 * (part % 2),
      ),
      note: { node: "hips", frames: [21, 39], key: [...keysAt(20), ...keysAt(21)], measured: 1 },
    },
  ],
  silent: [
    { title: "parts that lead and follow by two frames", motion: body(oneByOne(20, 2), oneByOne(40, 2)) },
    {
      title: "parts that start as one and arrive one after the other",
      motion: body(all(20), oneByOne(40, 3)),
      unexcused: body(all(20), all(40)),
    },
    {
      title: "parts that start one after the other and arrive as one",
      motion: body(oneByOne(28, -3), all(48)),
      unexcused: body(all(28), all(48)),
    },
    {
      title: "parts that are stopped by a landing",
      motion: () => jumpDocument({}, turning(all(5), all(jump().landing))),
      unexcused: () => bipedDocument(turning(all(5), all(jump().landing))),
    },
    { title: "legs that follow the hips of a jump", motion: () => jumpDocument() },
    { title: "a walk", motion: () => walkDocument() },
    { title: "poses blocked on step keys", motion: () => bipedDocument(blocked, { range: [1, 72] }) },
    {
      title: "a range that begins and ends while the parts move",
      motion: () => bipedDocument(turning(all(20), all(40)), { range: [24, 36] }),
      unexcused: () => bipedDocument(turning(all(20), all(40))),
    },
    { title: "props that turn together", motion: () => props(all(20)) },
    {
      title: "four parts",
      motion: () => bipedDocument(four(turning(all(20), all(40)))),
      unexcused: () => bipedDocument(turning(all(20), all(40))),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [116, 116],
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
  picture: {
    draws: "moves",
    nodes: ["hips", "chest", "head", "upper_arm_l", "forearm_l"],
    own: true,
    frames: [14, 60],
  },
});

/** What the last pose adds, in degrees. */
const lastPose: Readonly<Record<string, number>> = {
  "spine rotation.y": -10,
  "chest rotation.x": 14,
  "head rotation.x": -22,
  "upper_arm_l rotation.x": -35,
  "upper_arm_r rotation.x": -30,
  "forearm_l rotation.x": -40,
  "forearm_r rotation.x": -25,
};

function isAboveTheLegs({ node, channel }: { readonly node: string; readonly channel: string }): boolean {
  if (node === "hips") return channel.startsWith("rotation");
  return !/hair|thigh|shin|foot|toe|fingers/.test(node);
}
