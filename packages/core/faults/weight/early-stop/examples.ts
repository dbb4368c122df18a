import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  g,
  type JumpOptions,
  jump,
  jumpDocument,
  jumpWithHips,
  motionDocument,
  type SlopedKey,
  walk,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { earlyStop } from "./check.ts";

/** A jump with tucked legs, so that hips that stay up leave the feet their way to the ground. */
export const tucked = { height: 0.54, air: 12 } as const;
const high = { height: 0.54, air: 16 } as const;

/**
 * A jump whose fall is stopped so many frames (at 24 per second) before the landing, and let go on afterwards.
 * @param scale frames of the jump per frame at 24 per second
 */
export function stoppedJump(early: number, options: JumpOptions = tucked, scale = 1): CurveDocument {
  const { heightKeys, landing, motion } = jump(options);
  const frame = landing - early * scale;
  const height = (at: number) => motion.hips(at)[1];
  const slope = (height(frame + 1) - height(frame - 1)) / 2;
  return jumpWithHips(options, [
    ...heightKeys.slice(0, 3),
    [frame, height(frame), slope],
    [frame + 2 * scale, height(frame) - 0.05, -0.02 / scale],
    [landing + 2 * scale, height(frame) - 0.15, -0.02 / scale],
    ...heightKeys.slice(4),
  ]);
}

/** A jump with a share of gravity taken away from the top on, frame by frame: the fall is braked all the way. */
export function brakedFromTop(options: JumpOptions, share = 0.5): CurveDocument {
  const { heightKeys, takeOff, landing, motion } = jump(options);
  const height = (frame: number) => motion.hips(frame)[1];
  const speed = (frame: number) => (height(frame + 1) - height(frame - 1)) / 2;
  const top = Math.round((takeOff + landing) / 2);
  const braked = (frame: number) => height(frame) + 0.5 * share * (g / 576) * Math.max(0, frame - top) ** 2;
  const keys: SlopedKey[] = [...heightKeys.slice(0, 3)];
  for (let frame = top; frame <= landing; frame++) {
    keys.push([frame, braked(frame), (braked(frame + 1) - braked(frame - 1)) / 2]);
  }
  keys.push(
    [landing + 6, height(landing + 6), speed(landing + 6)],
    ...heightKeys.slice(4).filter(([frame]) => frame > landing + 6),
  );
  return jumpWithHips(options, keys);
}

/** A jump that hangs at its top, and falls on from there. */
function hanging(): CurveDocument {
  const options = { height: 0.54, air: 20 };
  const { heightKeys, takeOff, landing, motion } = jump(options);
  const top = (takeOff + landing) / 2;
  const key = (frame: number): SlopedKey => [frame, motion.hips(frame)[1], 0];
  return jumpWithHips(options, [
    ...heightKeys.slice(0, 3),
    key(top - 2),
    key(top + 2),
    ...heightKeys.slice(3),
  ]);
}

/** The stopped jump with an arm that beats up and down. */
export function beating(amplitude: number): CurveDocument {
  const { landing } = jump(tucked);
  const document = stoppedJump(4);
  const beat = Array.from({ length: 12 }, (_, i): [number, number] => [
    landing - 10 + 2 * i,
    i % 2 === 0 ? amplitude : -amplitude,
  ]);
  return {
    ...document,
    curves: [...document.curves, { node: "upper_arm_l", channel: "rotation.z", keys: beat }],
    propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }],
  };
}

/** How a walk of eight steps of twelve frames goes on: its feet as ever, its hips at other times. */
function walkOfHips(when: (frame: number) => number, motion = walk({ steps: 8 })): CurveDocument {
  return motionDocument({
    ...motion,
    hips: (frame) => {
      const [x, y] = motion.hips(frame);
      return [x, y, motion.hips(when(frame))[2]];
    },
  });
}

/** Time that runs at `share` of its speed from one frame to another, and is made up for until a third one. */
const slowed =
  (from: number, to: number, until: number, share = 0.1) =>
  (frame: number) => {
    if (frame <= from || frame >= until) return frame;
    const behind = (1 - share) * (to - from);
    return frame <= to ? from + share * (frame - from) : frame - behind * ((until - frame) / (until - to));
  };

/** Steps that are taken one by one: each foot goes while the body stands over the other one. */
const oneByOne = (frame: number) => {
  const step = Math.floor((frame - 1) / 12);
  const t = (frame - 1 - 12 * step) / 12;
  // All of the way is made while both feet stand, at the end of each step.
  const u = Math.min(1, Math.max(0, (t - 0.5) / 0.5));
  return 1 + 12 * (step + u * u * (3 - 2 * u));
};

const slip = (frame: number) => ({ node: "hips", channel: "translation.y", frame }) as const;

export const earlyStopExamples = defineExamples(earlyStop, {
  // The jump leaves the ground at frame 25 and lands 12 or 16 frames later.
  faulty: [
    {
      title: "hips that slow down four frames before the feet touch",
      motion: () => stoppedJump(4),
      right: () => jumpDocument(tucked),
      note: { node: "hips", frames: [33, 37], key: slip(33), measured: 4 },
    },
    {
      title: "hips that slow down two frames before the feet touch",
      motion: () => stoppedJump(2),
      right: () => jumpDocument(tucked),
      note: { node: "hips", frames: [35, 37], key: slip(35), measured: 2 },
    },
    {
      title: "a longer fall that stops four frames before the ground",
      motion: () => stoppedJump(4, high),
      right: () => jumpDocument(high),
      note: { node: "hips", frames: [37, 41], key: slip(37), measured: 4 },
    },
    {
      title: "a stop that sets in at the top and lasts to the ground",
      motion: () => brakedFromTop(high),
      right: () => jumpDocument(high),
      // Under half of gravity the body falls faster than 0.3 m/s from 1.5 frames after the top on.
      note: {
        node: "hips",
        frames: [35, 41],
        key: { node: "hips", channel: "translation.y" },
        measured: 6,
      },
    },
    {
      // A foot swings from frame 46 to 55; the body stands from behind 46 to 52 and has caught up by 60.
      title: "a body that stops in the middle of a step and catches up when the foot is down",
      motion: () => walkOfHips(slowed(46, 52, 60)),
      right: () => walkDocument({ steps: 8 }),
      note: {
        node: "hips",
        frames: [47, 55],
        key: { node: "hips", channel: "translation.z" },
        measured: 0.1,
      },
    },
  ],
  silent: [
    { title: "a jump that falls until its feet carry", motion: () => jumpDocument(tucked) },
    { title: "a jump forward", motion: () => jumpDocument({ forward: 1.5 }) },
    { title: "a stop one frame before the contact", motion: () => stoppedJump(1) },
    { title: "a hang at the top that ends in the air", motion: hanging },
    {
      title: "a hand in a declared contact, which carries",
      motion: () => ({
        ...stoppedJump(4),
        contacts: [{ node: "hand_l", with: "rail", frames: [32, 41] }],
      }),
      unexcused: () => stoppedJump(4),
    },
    { title: "wings that beat more strongly", motion: () => beating(40), unexcused: () => beating(0) },
    { title: "a walk at an even speed", motion: () => walkDocument({ steps: 8 }) },
    {
      title: "a body that keeps half of its speed in one step",
      motion: () => walkOfHips(slowed(46, 52, 60, 0.5)),
    },
    { title: "steps that are taken one by one", motion: () => walkOfHips(oneByOne) },
    {
      title: "a step that pauses as a whole, foot and body",
      motion: () => {
        const motion = walk({ steps: 8 });
        const when = slowed(46, 52, 60);
        const at =
          <T>(of: (frame: number) => T) =>
          (frame: number) =>
            of(when(frame));
        return motionDocument({
          ...motion,
          hips: at(motion.hips),
          left: at(motion.left),
          right: at(motion.right),
        });
      },
    },
    { title: "a fall that is weak all through", motion: () => jumpDocument({ ...tucked, gravity: 4 }) },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "hips",
    frames: [45, 50],
    slip: "in the first version the porter stops falling five frames before the left foot lands",
  },
  picture: { draws: "courses", nodes: ["hips", "foot_l"], of: "height", frames: [19, 45] },
});
