import type { CurveDocument } from "@keyside/core";
import {
  ankleHeight,
  bipedDocument,
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  everyFrame,
  g,
  halfStance,
  jump,
  jumpDocument,
  jumpWithHips,
  motionDocument,
  standing,
  type Vector,
} from "../../../packages/core/faults/shared/examples/motions.ts";

/** Motions in which one kind of strength holds, and the same motions in which it does not. */
export interface Case {
  readonly title: string;
  readonly motion: () => CurveDocument;
}

const range = [1, 96] as const;
const frames = (value: (frame: number) => number) => everyFrame(...range, value);
const body = (curves: Curves) => () => bipedDocument(curves, { range });
const over = (hips: (frame: number) => Vector, slide = 0) =>
  motionDocument({
    first: 1,
    last: 60,
    hips,
    left: (frame) => standing("left", slide * eased(10, 50, 0, 1)(frame)),
    right: (frame) => standing("right", slide * eased(10, 50, 0, 1)(frame)),
  });
const crouch =
  (depth: number) =>
  (frame: number): Vector => [0, 0.92 - depth * (eased(8, 28, 0, 1)(frame) - eased(32, 52, 0, 1)(frame)), 0];

/** A jump whose hips sink to a height by six frames after the landing, and come up to another one. */
const landing = (low: number, end: number) => () => {
  const { heightKeys } = jump();
  const [lowest, last] = heightKeys.slice(-2);
  return jumpWithHips({}, [...heightKeys.slice(0, -2), [lowest[0], low], [last[0], end]]);
};

/** Someone who lifts the right foot and brings the hips over the left one, by a share of the way. */
const oneFoot = (share: number) => () =>
  motionDocument({
    first: 1,
    last: 84,
    hips: (frame) => [share * eased(4, 20, 0, halfStance)(frame), 0.86, 0.06],
    left: () => standing("left"),
    right: (frame) => ({ at: [-halfStance, ankleHeight + eased(24, 34, 0, 0.2)(frame), 0] }),
  });

/** A turn of chest and head about the upright: the head's own place in time, the chest's, in frames. */
const turn = (head: number, chest: number) =>
  body({
    "chest rotation.y": frames(eased(30 + chest, 54 + chest, 0, 40)),
    "head rotation.y": frames(
      (frame) => eased(30 + head, 54 + head, 0, 70)(frame) - eased(30 + chest, 54 + chest, 0, 40)(frame),
    ),
  });

/** An arm that swings up in front, by how each joint goes from frame to frame. */
const arm = (upper: (frame: number) => number, fore: (frame: number) => number, hand = (_: number) => 0) =>
  body({
    "upper_arm_l rotation.z": frames((frame) => -upper(frame)),
    "forearm_l rotation.z": frames((frame) => -fore(frame)),
    "hand_l rotation.z": frames((frame) => -hand(frame)),
  });
const linear = (first: number, last: number, to: number) => (frame: number) =>
  (to * Math.min(last - first, Math.max(0, frame - first))) / (last - first);

/** Hips that sway by 30° and a tail whose links do so too, each late by some frames. */
const tail = (...lates: readonly number[]) => {
  const sway = (late: number) => (frame: number) => 30 * Math.sin((2 * Math.PI * (frame - late)) / 32);
  const all = [0, ...lates].map(sway);
  const links = lates.map((_, k) => [
    `tail_${k + 1} rotation.y`,
    frames((frame) => all[k + 1](frame) - all[k](frame)),
  ]);
  const ids = lates.map((_, k) => `tail_${k + 1}`);
  const nodes = [...ids, "tail_end"].map((id, k) => ({
    id,
    parent: k === 0 ? "hips" : `tail_${k}`,
    translation: [0, 0, -0.15] as [number, number, number],
  }));
  const parts = { ...bipedFigure.parts, tail: [...ids, "tail_end"] };
  return () =>
    documentOf(
      [...bipedNodes, ...nodes],
      { "hips rotation.y": frames(sway(0)), ...Object.fromEntries(links) },
      { more: { figures: [{ ...bipedFigure, parts }] } },
    );
};

/** An arm that is raised by frame 30 and held from then on, while the chest does something. */
const held = (chest: (frame: number) => number, sway = (_: number) => 0) =>
  body({
    "upper_arm_l rotation.z": frames(eased(8, 28, 0, -60)),
    "chest rotation.x": frames(chest),
    "spine rotation.y": frames(sway),
  });

export const cases: Readonly<
  Record<string, { readonly holds: readonly Case[]; readonly not: readonly Case[] }>
> = {
  "true-fall": {
    holds: [{ title: "a jump under gravity", motion: () => jumpDocument({ forward: 1 }) }],
    not: [
      { title: "a jump that floats", motion: () => jumpDocument({ gravity: g / 1.5, forward: 1 }) },
      { title: "a jump that drops", motion: () => jumpDocument({ gravity: 1.4 * g, forward: 1 }) },
      { title: "someone who stays on the ground", motion: () => over(crouch(0.2)) },
    ],
  },
  "soft-landing": {
    holds: [{ title: "a jump that is taken up by the knees", motion: () => jumpDocument({ forward: 1 }) }],
    not: [
      { title: "a landing on stiff legs", motion: landing(0.82, 0.93) },
      { title: "a landing that stays down", motion: landing(0.68, 0.68) },
      { title: "someone who crouches", motion: () => over(crouch(0.3)) },
    ],
  },
  "held-balance": {
    holds: [{ title: "one foot with the hips over it", motion: oneFoot(0.95) }],
    not: [
      { title: "one foot with the hips in the middle", motion: oneFoot(0.2) },
      { title: "upright on both feet, which cannot fail", motion: () => over(crouch(0)) },
    ],
  },
  "rooted-foot": {
    holds: [{ title: "a crouch over both feet", motion: () => over(crouch(0.25)) }],
    not: [
      { title: "feet under hips that keep still, which cannot fail", motion: () => over(crouch(0)) },
      { title: "a foot that slides", motion: () => over(crouch(0.25), 0.05) },
    ],
  },
  "head-first-turn": {
    holds: [{ title: "the head three frames ahead", motion: turn(0, 3) }],
    not: [
      { title: "the head with the chest", motion: turn(0, 0) },
      { title: "the head behind the chest", motion: turn(3, 0) },
    ],
  },
  "eased-move": {
    holds: [{ title: "an arm that eases", motion: arm(eased(20, 44, 0, 80), eased(20, 44, 0, 30)) }],
    not: [
      { title: "an arm at even spacing", motion: arm(linear(20, 44, 80), linear(20, 44, 30)) },
      {
        title: "an arm that stops at once",
        motion: arm(
          (f) => Math.min(80, eased(20, 64, 0, 160)(f)),
          () => 0,
        ),
      },
      {
        title: "a hand that rests on something, whose shoulder moves",
        motion: () => ({
          ...arm(eased(20, 44, 0, 80), eased(20, 44, 0, 30))(),
          contacts: [{ node: "hand_l", with: "bell", frames: [1, 60] as [number, number] }],
        }),
      },
    ],
  },
  "clean-arc": {
    holds: [
      { title: "shoulder and elbow together", motion: arm(eased(20, 44, 0, 90), eased(20, 44, 0, 30)) },
    ],
    not: [
      { title: "one joint alone, which cannot fail", motion: arm(eased(20, 44, 0, 90), () => 0) },
      {
        title: "an elbow that opens and closes on the way",
        motion: arm(eased(20, 44, 0, 90), (f) => 70 * (eased(24, 30, 0, 1)(f) - eased(32, 38, 0, 1)(f))),
      },
    ],
  },
  "late-stops": {
    holds: [
      {
        title: "each joint three frames later",
        motion: arm(eased(20, 40, 0, 60), eased(22, 43, 0, 40), eased(24, 46, 0, 25)),
      },
    ],
    not: [
      {
        title: "all on one frame",
        motion: arm(eased(20, 40, 0, 60), eased(20, 40, 0, 40), eased(20, 40, 0, 25)),
      },
      {
        title: "the hand first",
        motion: arm(eased(24, 46, 0, 60), eased(22, 43, 0, 40), eased(20, 40, 0, 25)),
      },
    ],
  },
  "growing-lag": {
    holds: [{ title: "links late by 2, 4 and 6 frames", motion: tail(2, 4, 6) }],
    not: [
      { title: "links on one frame", motion: tail(0, 0, 0) },
      { title: "links all late by 2 frames", motion: tail(2, 2, 2) },
      { title: "a tip that is ahead", motion: tail(4, 3, 2) },
    ],
  },
  "living-hold": {
    holds: [
      {
        title: "a chest that breathes and sways",
        motion: held(
          (frame) => 1.2 * Math.sin(frame / 12),
          (frame) => 1.2 * Math.cos(frame / 12),
        ),
      },
    ],
    not: [
      { title: "a hold that is frozen", motion: held(() => 0) },
      { title: "a hold that trembles", motion: held((frame) => 0.12 * Math.sin(2.1 * frame)) },
    ],
  },
};
