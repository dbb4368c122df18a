import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import {
  along,
  ankleHeight,
  curveThrough,
  type DocumentOptions,
  documentOf,
  eased,
  everyFrame,
  g,
  inPoses,
  jump,
  jumpDocument,
  jumpWithHips,
  motionDocument,
  pathDocument,
  type SlopedKey,
  standing,
  standingHips,
} from "../../shared/examples/motions.ts";
import { noSettle } from "./check.ts";

/** A jump after whose landing the hips sink by so much, from 0.88 m, and come up again. */
const landing = (give: number, air = 12, options: DocumentOptions = {}) => {
  const { heightKeys, landing: lands } = jump({ air });
  const [[end, stands]] = heightKeys.slice(-1);
  const keys: SlopedKey[] = [
    ...heightKeys.slice(0, 4),
    [lands + 1, 0.88 - give / 2, -give / 2],
    [lands + 3, 0.88 - give],
    [end, stands],
  ];
  return () => jumpWithHips({ air, ...options }, keys);
};
/** The jump in poses of step keys, whose legs are so much shorter in the pose that lands than in the one that stands. */
const drawnLanding = (bent: number) => (): CurveDocument => {
  const { motion, takeOff, landing: lands } = jump();
  const hips = (frame: number) => {
    const [x, y, z] = motion.hips(frame);
    return [
      x,
      frame < takeOff ? y : frame < lands ? y : standingHips - (frame < lands + 12 ? bent : 0),
      z,
    ] as const;
  };
  const poses = [1, 19, takeOff + 2, takeOff + 6, lands, lands + 12];
  return inPoses(motionDocument({ ...motion, hips }), poses);
};
/** Height of the hips a frame before a landing, over the one at it. */
const above = (air: number) => (g / 2) * (1 / 24) * ((air - 1) / 24);

/** Two jumps, so many frames on the ground with stiff legs between them, and a landing that the knees take up. */
const hopping = (ground: number) => () => {
  const speed = (g * 0.5) / 2 / 24;
  const [up, down] = [21 + ground, 33 + ground];
  const flights = [
    [9, 21],
    [up, down],
  ];
  const last = down + 16;
  const { at } = curveThrough([
    [1, 0.88],
    [8, 0.88],
    [9, 0.88, speed],
    [21, 0.88, -speed],
    [22, 0.88],
    [up - 1, 0.88],
    [up, 0.88, speed],
    [down, 0.88, -speed],
    [down + 5, 0.7],
    [last, 0.88],
  ]);
  const foot = (side: "left" | "right") => (frame: number) => {
    const flat = standing(side);
    const isUp = flights.some(([from, to]) => frame > from && frame < to);
    return isUp ? { at: [flat.at[0], ankleHeight + at(frame) - 0.88, flat.at[2]] as const } : flat;
  };
  return motionDocument({
    first: 1,
    last: last + 4,
    hips: (frame) => [0, at(frame), 0],
    left: foot("left"),
    right: foot("right"),
  });
};

/** A lamp that hangs from its own foot, and falls on it: its pole bends by so many degrees in each joint as it lands. */
const lamp = (bend: number) => () => {
  const height = (frame: number) => 0.03 + Math.max(0, 0.5 - (g / 2) * Math.max(0, (frame - 6) / 24) ** 2);
  const bent = (sign: number) =>
    everyFrame(
      1,
      48,
      (frame) => sign * bend * (eased(13, 19, 0, 1)(frame) - 0.7 * eased(20, 34, 0, 1)(frame)),
    );
  return documentOf(
    [
      { id: "disc" },
      { id: "toe", parent: "disc", translation: [0, 0, 0.15] },
      { id: "low", parent: "disc", translation: [0, 0.03, 0] },
      { id: "high", parent: "low", translation: [0, 0.45, 0] },
      { id: "cage", parent: "high", translation: [0, 0.45, 0] },
      { id: "cap", parent: "cage", translation: [0, 0.27, 0] },
    ],
    {
      ...along("disc", 1, 48, (frame) => [0, height(frame), 0]),
      "low rotation.x": bent(1),
      "high rotation.x": bent(-2),
    },
    {
      range: [1, 48],
      more: {
        figures: [
          {
            id: "lamp",
            stature: 1.2,
            parts: { root: "disc", head: "cage" },
            limbs: [{ id: "pole", kind: "leg", nodes: ["high", "low", "disc"] }],
          },
        ],
        surfaces: [{ id: "ground", normal: [0, 1, 0], height: 0 }],
      },
    },
  );
};

export const noSettleExamples = defineExamples(noSettle, {
  faulty: [
    {
      title: "a jump that stands as it touches",
      motion: landing(0),
      right: () => jumpDocument(),
      note: {
        node: "hips",
        frames: [36, 37],
        key: { node: "hips", channel: "translation.y" },
        measured: above(12),
      },
    },
    {
      title: "a higher jump that gives by a centimetre",
      motion: landing(0.01, 16),
      right: () => jumpDocument({ air: 16 }),
      note: {
        node: "hips",
        frames: [40, 44],
        key: { node: "hips", channel: "translation.y" },
        measured: above(16) + 0.01,
      },
    },
    {
      title: "a landing on stiff legs in poses of step keys",
      motion: drawnLanding(0),
      right: drawnLanding(0.2),
      note: {
        node: "hips",
        frames: [37, 37],
        key: { node: "hips", channel: "translation.y" },
        // Bones of 0.84 m, and hips 0.82 m over the ankles.
        measured: 0.02,
      },
    },
  ],
  silent: [
    { title: "a landing that the knees take up", motion: () => jumpDocument() },
    {
      title: "a lamp on one foot, from which all of it hangs, whose pole bends",
      motion: lamp(50),
      unexcused: lamp(2),
    },
    {
      title: "a stiff landing, as children land",
      motion: landing(0.06),
      unexcused: landing(0.01),
    },
    {
      title: "a landing on bent legs in poses of step keys",
      motion: drawnLanding(0.2),
      unexcused: drawnLanding(0),
    },
    { title: "a small hop", motion: landing(0, 5), unexcused: landing(0, 10) },
    { title: "a body that bounces off again", motion: hopping(4), unexcused: hopping(12) },
    {
      title: "a figure with propulsors, whose beat carries it",
      motion: landing(0, 12, {
        more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] },
      }),
      unexcused: landing(0),
    },
    {
      title: "a stone that falls and lies",
      motion: () =>
        pathDocument(1, 40, (frame) => [0, Math.max(0, 0.5 - (g / 2) * ((frame - 8) / 24) ** 2), 0]),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [88, 91],
    slip: "the hips and the legs stay as they are at the landing: nothing gives",
    edits: [
      (shot, before) =>
        shot.curves
          .filter(
            ({ node, channel }) =>
              /^(thigh|shin|foot|toes)_/.test(node) || (node === "hips" && channel === "translation.y"),
          )
          .flatMap(({ node, channel }) => {
            const touch = keyAt(before, node, channel, 90);
            return rekeyed(shot, node, channel, [
              { ...touch, leaves: 0 },
              { frame: 96, value: touch.value },
              { ...keyAt(before, node, channel, 108), slope: 0 },
            ]);
          }),
    ],
  },
  picture: { draws: "courses", nodes: ["hips", "foot_l"], of: "height", frames: [19, 55] },
});
