import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  adrift,
  birdDocument,
  type DocumentOptions,
  type JumpOptions,
  jump,
  jumpDocument,
  jumpWithHips,
} from "../../shared/examples/motions.ts";
import { liftBeforePush } from "./check.ts";

export const tucked = { height: 0.6, air: 14 } as const;

/** A jump whose hips leave the crouch only as the feet leave the ground, and have their speed some frames later. */
export function lateJump(frames: number, options: JumpOptions = tucked): CurveDocument {
  const { heightKeys, takeOff, motion } = jump(options);
  const height = (frame: number) => motion.hips(frame)[1];
  const frame = takeOff + frames;
  const slope = (height(frame + 1) - height(frame - 1)) / 2;
  return jumpWithHips(options, [
    ...heightKeys.slice(0, 2),
    [takeOff, height(takeOff) - 0.02, 0],
    [frame, height(frame), slope],
    ...heightKeys.slice(3),
  ]);
}

/** A bird that glides level and then, from a frame on, is drawn upward while its wings start to beat at another. */
export function swoop(
  rise: number,
  beat: number,
  options: DocumentOptions & { declares?: boolean } = {},
): CurveDocument {
  return birdDocument(
    {
      first: 1,
      last: 60,
      // 4 m/s² upward for 12 frames at 24 per second, then on at the speed it has.
      body: (frame) => {
        const t = Math.max(0, frame - rise) / 24;
        const u = Math.min(t, 0.5);
        return [0, 2 + 2 * u * u + 4 * u * (t - u), 3 * ((frame - 1) / 24)];
      },
      wings: (frame) => (frame <= beat ? 10 : 10 + 40 * Math.sin(((frame - beat) / 8) * 2 * Math.PI)),
    },
    options,
  );
}

/** Every tenth frame as a pose in step keys. */
const posed = (document: CurveDocument): CurveDocument => ({
  ...document,
  curves: document.curves.map((curve) => ({
    ...curve,
    interpolation: "step",
    keys: curve.keys.filter(([frame]) => frame % 10 === 1),
  })),
});

/** A jump of a figure with wings, whose feet leave after frame 25: the wings are up, and begin to beat on a frame. */
function wingedJump(start: number): CurveDocument {
  const document = jumpDocument();
  const keys = Array.from({ length: 7 }, (_, i): [number, number] => [start + 4 * i, i % 2 === 0 ? 40 : -40]);
  return {
    ...document,
    curves: [...document.curves, { node: "upper_arm_l", channel: "rotation.z", keys: [[1, 40], ...keys] }],
    propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }],
  };
}

export const liftBeforePushExamples = defineExamples(liftBeforePush, {
  faulty: [
    {
      title: "a jump that comes to its speed four frames after the feet have left",
      motion: () => lateJump(4),
      right: () => jumpDocument(tucked),
      // Between its two keys the height is bent upward for two and a half frames, then downward as in a fall.
      note: {
        node: "hips",
        frames: [26, 27],
        key: { node: "hips", channel: "translation.y" },
        measured: 2,
      },
    },
    {
      title: "a bird that swoops up five frames before its wings start",
      motion: () => swoop(28, 33),
      right: () => swoop(28, 25),
      note: {
        node: "body",
        frames: [28, 33],
        key: [
          { node: "wing_l", channel: "rotation.z" },
          { node: "wing_r", channel: "rotation.z" },
        ],
        measured: -5,
      },
    },
    {
      title: "a bird whose wings are known by their place alone",
      motion: () => swoop(28, 31, { declares: false }),
      right: () => swoop(28, 25, { declares: false }),
      note: {
        node: "body",
        frames: [28, 31],
        key: [
          { node: "wing_l", channel: "rotation.z" },
          { node: "wing_r", channel: "rotation.z" },
        ],
        measured: -3,
      },
    },
    {
      title: "legs that push off a body whose wings strike down three frames later",
      motion: () => wingedJump(29),
      right: () => wingedJump(25),
      note: {
        node: "hips",
        frames: [26, 29],
        key: { node: "upper_arm_l", channel: "rotation.z" },
        measured: -3,
      },
    },
  ],
  silent: [
    { title: "a jump that legs push until the feet leave", motion: () => jumpDocument(tucked) },
    { title: "a jump forward", motion: () => jumpDocument({ forward: 1.5, air: 16 }) },
    { title: "wings that lead the body by three frames", motion: () => swoop(28, 25) },
    { title: "wings that start with the body", motion: () => swoop(28, 28) },
    { title: "a glide with still wings", motion: () => swoop(90, 95) },
    {
      title: "a body that a hand in a declared contact pulls",
      motion: () => ({
        ...lateJump(4),
        contacts: [{ node: "hand_l", with: "rope", frames: [20, 31] }],
      }),
      unexcused: () => lateJump(4),
    },
    {
      title: "legs that push while the wings are up, which strike down as the feet leave",
      motion: () => wingedJump(25),
      unexcused: () => adrift(wingedJump(25)),
    },
    {
      title: "a swoop in step keys whose wings change a pose later",
      motion: () => posed(swoop(28, 33)),
      unexcused: () => swoop(28, 33),
    },
    { title: "beats that go on", motion: () => swoop(28, 1) },
  ],
  provocation: {
    shot: "jetty_0040_v1",
    node: "body",
    frames: [1049, 1053],
    slip: "in the first version the heron swoops up before its braking beats begin",
  },
  picture: { draws: "courses", nodes: ["hips", "foot_l"], of: "height", frames: [13, 34] },
});
