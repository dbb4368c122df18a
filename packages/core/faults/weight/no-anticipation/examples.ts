import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { keyAt, rekeyed } from "../../shared/examples/keying.ts";
import {
  bipedDocument,
  curveThrough,
  type DocumentOptions,
  g,
  inPoses,
  type JumpOptions,
  jump,
  jumpDocument,
  jumpWithHips,
  motionDocument,
  pathDocument,
  type SlopedKey,
} from "../../shared/examples/motions.ts";
import { noAnticipation } from "./check.ts";

/** A jump before whose take-off, from 0.88 m, the hips are down by so much. */
const pushed = (push: number, options: JumpOptions & DocumentOptions = {}) => {
  const { heightKeys, takeOff } = jump(options);
  const [, , leaves, lands, ...settle] = heightKeys;
  const keys: SlopedKey[] = [
    [takeOff - 18, 0.88],
    [takeOff - 8, 0.88],
    [takeOff - 4, 0.88 - push],
    [takeOff - 1, 0.88 - push / 2, push / 6],
    leaves,
    lands,
    ...settle,
  ];
  return () => jumpWithHips(options, keys);
};
/** A jump before which the body goes down by 14 cm within so many frames, and is up again four frames later. */
const dipped = (frames: number) => {
  const { heightKeys, takeOff } = jump();
  const keys: SlopedKey[] = [
    [1, 0.88],
    [takeOff - 2 - frames, 0.88],
    [takeOff - 2, 0.74],
    ...heightKeys.slice(2),
  ];
  return () => jumpWithHips({}, keys);
};
/** The jump in poses of step keys: the body stands, is so much lower in the next pose, takes off, and is at the top. */
const drawnJump = (dip: number) => (): CurveDocument => {
  const { motion, takeOff } = jump();
  const height = (frame: number) => 0.88 - (frame > 10 && frame < takeOff ? dip : 0);
  const hips = (frame: number) => (frame < takeOff ? ([0, height(frame), 0] as const) : motion.hips(frame));
  const poses = [1, 19, takeOff, takeOff + 6, takeOff + 12, takeOff + 18, takeOff + 36];
  return inPoses(motionDocument({ ...motion, hips }), poses);
};
/** The jump without a push, of a body that runs on by so many metres a second. */
const running = (speed: number) => () => {
  const { motion, takeOff } = jump();
  const z = (frame: number) => (speed * (frame - 1)) / 24;
  const height = (frame: number) => (frame < takeOff ? 0.88 : motion.hips(frame)[1]);
  const foot = (side: "left" | "right") => (frame: number) => {
    const { at } = motion[side](frame);
    return { at: [at[0], at[1], z(frame)] as const };
  };
  return motionDocument({
    ...motion,
    hips: (frame) => [0, height(frame), z(frame)],
    left: foot("left"),
    right: foot("right"),
  });
};

/** A second pair of legs in front of the first, which does the same. */
function onFourLegs(document: CurveDocument): CurveDocument {
  const isOfLeg = (node: string) => /^(thigh|shin|foot|toes)_/.test(node);
  const fore = (node: string) => (isOfLeg(node) ? `fore_${node}` : node);
  const [nodes, curves] = [
    document.nodes.filter(({ id }) => isOfLeg(id)),
    document.curves.filter(({ node }) => isOfLeg(node)),
  ];
  const moved = ([x, y, z]: readonly number[]): [number, number, number] => [x, y, z + 0.6];
  return {
    ...document,
    nodes: [
      ...document.nodes,
      ...nodes.map(({ id, parent = "hips", translation = [0, 0, 0], ...node }) => ({
        ...node,
        id: `fore_${id}`,
        parent: fore(parent),
        translation: parent === "hips" ? moved(translation) : translation,
      })),
    ],
    curves: [...document.curves, ...curves.map((curve) => ({ ...curve, node: `fore_${curve.node}` }))],
  };
}

/** Turns of a chest, of an upper arm and of a forearm to the left, degrees about the upright, in a pose. */
type ArmPose = readonly [chest: number, upper: number, lower: number];
/** The fist before the chest; out in front, with the chest behind it; and what both come from. */
const guard: ArmPose = [0, -20, -140];
const struck: ArmPose = [-40, -75, 0];
const wound: ArmPose = [20, 25, -140];

/** Someone in poses of step keys: so many frames of guard, another pose for five frames, and the left fist is out. */
const blow =
  (before: ArmPose, { to = struck, options = {} as DocumentOptions, from = 21 } = {}) =>
  (): CurveDocument => {
    const poses: [number, ArmPose][] = [
      [1, guard],
      [from, before],
      [from + 5, to],
      [from + 17, guard],
    ];
    const keys = (k: 0 | 1 | 2) => ({
      interpolation: "step" as const,
      keys: poses.map(([frame, pose]): [number, number] => [frame, pose[k]]),
    });
    return bipedDocument(
      {
        "chest rotation.y": keys(0),
        "upper_arm_l rotation.y": keys(1),
        "forearm_l rotation.y": keys(2),
      },
      { range: [1, 60], ...options },
    );
  };

export const noAnticipationExamples = defineExamples(noAnticipation, {
  // The jump leaves the ground at frame 25.
  faulty: [
    {
      title: "a jump out of straight legs",
      motion: pushed(0),
      right: () => jumpDocument(),
      note: {
        node: "hips",
        frames: [15, 26],
        key: { node: "hips", channel: "translation.y" },
        measured: 0,
      },
    },
    {
      title: "a higher jump out of a crouch of three centimetres",
      motion: pushed(0.03, { air: 16 }),
      right: () => jumpDocument({ air: 16 }),
      note: {
        node: "hips",
        frames: [15, 26],
        key: { node: "hips", channel: "translation.y" },
        measured: 0.03,
      },
    },
    {
      title: "a jump in step keys out of poses in which the body stands",
      motion: drawnJump(0),
      right: drawnJump(0.2),
      note: {
        node: "hips",
        frames: [20, 31],
        key: { node: "hips", channel: "translation.y" },
        measured: 0,
      },
    },
    {
      title: "a jump out of a crouch that is there for three frames",
      motion: dipped(3),
      right: dipped(10),
      note: {
        node: "hips",
        frames: [15, 26],
        key: { node: "hips", channel: "translation.y" },
        measured: 3 / 24,
      },
    },
    {
      title: "a blow in step keys out of the guard, with no pose that goes back before it",
      motion: blow(guard),
      right: blow(wound),
      note: {
        node: "hand_l",
        frames: [2, 26],
        key: [
          { node: "chest", channel: "rotation.y" },
          { node: "upper_arm_l", channel: "rotation.y" },
          { node: "forearm_l", channel: "rotation.y" },
        ],
        measured: 0,
      },
    },
    {
      title: "a leap of an animal that stands on bent legs",
      motion: () => onFourLegs(bent(0)()),
      right: () => onFourLegs(bent(0.15)()),
      note: {
        node: "hips",
        frames: [15, 26],
        key: { node: "hips", channel: "translation.y" },
        measured: 0.00334,
      },
    },
  ],
  silent: [
    {
      title: "a blow in step keys before which chest and arm go back",
      motion: blow(wound),
      unexcused: blow(guard),
    },
    {
      title: "an arm in step keys that goes out while the chest stays",
      motion: blow(guard, { to: [0, -75, 0] }),
      unexcused: blow(guard),
    },
    {
      title: "a fist in step keys that reaches for what it touches",
      motion: blow(guard, {
        options: { more: { contacts: [{ node: "hand_l", with: "wall", frames: [26, 37] }] } },
      }),
      unexcused: blow(guard),
    },
    {
      title: "a hand in step keys that is drawn back behind its shoulder from the start of the shot on",
      motion: drawnBack(1),
      unexcused: drawnBack(0),
    },
    { title: "a jump in step keys with a crouch before it", motion: drawnJump(0.2), unexcused: drawnJump(0) },
    { title: "a jump out of a crouch", motion: () => jumpDocument() },
    { title: "a jump forward out of a crouch", motion: () => jumpDocument({ forward: 1.5 }) },
    {
      title: "a body that is crouched already",
      motion: crouched,
      unexcused: () => onFourLegs(bent(0)()),
    },
    {
      title: "an animal that lies in wait, lower than it stands, for longer than a crouch takes",
      motion: () => onFourLegs(inWait(0.08)),
      unexcused: () => onFourLegs(inWait(0)),
    },
    {
      title: "a jump out of a quick crouch that is seen",
      motion: dipped(10),
      unexcused: dipped(3),
    },
    { title: "a small hop", motion: pushed(0, { air: 5 }), unexcused: pushed(0, { air: 11 }) },
    { title: "a jump out of a run", motion: running(2), unexcused: running(0) },
    {
      title: "a figure with propulsors, whose beat carries it",
      motion: pushed(0, {
        more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] },
      }),
      unexcused: pushed(0),
    },
    {
      title: "a stone that is thrown up",
      motion: () =>
        pathDocument(1, 60, (frame) => {
          const t = (frame - 20) / 24;
          return [0, Math.max(0, t < 0 ? 0 : 2.5 * t - (g / 2) * t * t), 0];
        }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [60, 78],
    slip: "the crouch before the jump was taken out: hips and legs wait for the take-off",
    edits: [
      (shot, before) =>
        shot.curves
          .filter(
            ({ node, channel }) =>
              /^(thigh|shin|foot|toes)_/.test(node) || (node === "hips" && channel === "translation.y"),
          )
          .flatMap(({ node, channel }) => {
            const stands = { ...keyAt(before, node, channel, 57), slope: 0, leaves: 0 };
            return rekeyed(shot, node, channel, [
              stands,
              { ...stands, frame: 74 },
              keyAt(before, node, channel, 76),
            ]);
          }),
    ],
  },
  picture: { draws: "courses", nodes: ["hips", "foot_l"], of: "height", frames: [1, 40] },
});

/** Someone whose fist is drawn back behind its shoulder, or is in the guard, for a second before it strikes out. */
function drawnBack(share: number) {
  const pose: ArmPose = share === 0 ? guard : [0, 40, -100];
  return (): CurveDocument => {
    const document = blow(pose, { from: 21 })();
    for (const curve of document.curves) curve.keys = curve.keys.filter(([frame]) => frame !== 1);
    return document;
  };
}

/** A jump between two rests at 0.72 m, on bent legs; before it the body goes down by so much. */
function bent(dip: number) {
  const { heightKeys, takeOff, landing } = jump();
  const [, , leaves, lands, lowest] = heightKeys;
  const keys: SlopedKey[] = [
    [1, 0.72],
    [takeOff - 16, 0.72],
    [takeOff - 6, 0.72 - dip],
    leaves,
    lands,
    lowest,
    [landing + 16, 0.72],
  ];
  return () => jumpWithHips({}, keys);
}

/** A body that stands crouched for a second before it jumps. */
function crouched() {
  const { heightKeys, takeOff } = jump();
  return jumpWithHips({}, [[1, 0.7], [takeOff - 5, 0.7], ...heightKeys.slice(2)]);
}

/** A body on bent legs that goes down by so much two seconds before it jumps, and stays there. */
function inWait(lower: number): CurveDocument {
  const { motion, heightKeys, takeOff, landing } = jump();
  const [, , leaves, lands, lowest] = heightKeys;
  const { keyed, at } = curveThrough([
    [-90, 0.6],
    [-42, 0.6],
    [-30, 0.6 - lower],
    [takeOff - 6, 0.6 - lower],
    leaves,
    lands,
    lowest,
    [landing + 16, 0.6],
  ]);
  const hips = (frame: number) => [0, at(frame), 0] as const;
  return motionDocument({ ...motion, first: -90, hips }, {}, { "hips translation.y": keyed });
}
