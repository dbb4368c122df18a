import type { NodeSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  bipedFigure,
  bipedNodes,
  birdDocument,
  type Curves,
  documentOf,
  eased,
  easedKeys,
  everyFrame,
  jump,
  jumpDocument,
  type Keyed,
  type Keys,
} from "../../shared/examples/motions.ts";
import { twinning } from "./check.ts";

type Course = (frame: number) => number;

/** Straight arms that hang and are lifted aside, by angles from where they hang. */
const lifting = (left: Course, right: Course): Curves => ({
  "upper_arm_l rotation.z": everyFrame(1, 60, (frame) => left(frame) - 70),
  "upper_arm_r rotation.z": everyFrame(1, 60, (frame) => 70 - right(frame)),
});
const lifted =
  (left: Course, right: Course, more: Curves = {}) =>
  () =>
    bipedDocument({ ...lifting(left, right), ...more });
/** The biped with its trunk to the front instead of up. */
const level = bipedNodes.map((node) => {
  const [x, y, z] = node.translation ?? [0, 0, 0];
  return /spine|chest|shoulder/.test(node.id)
    ? { ...node, translation: [x, z, y] as [number, number, number] }
    : node;
});
const lift = (late = 0, angle = 60) => eased(10 + late, 34 + late, 0, angle);
/**
 * Arms of 0.53 m rise by 60° within 24 frames, minimum-jerk. 0.1 body heights a second are 1.28 % of that way a frame,
 * which the fourth step is the first and the last but three the last to make (1.95 %; the third: 1.09 %).
 */
const seen = [13, 31] as const;
const note = {
  node: "upper_arm_r",
  frames: seen,
  key: { node: "upper_arm_r", channel: "rotation.z" },
} as const;

const lengthways = everyFrame(1, 60, () => -90);
/** Arms that are stretched to the front and turn up and down together, about the line through the shoulders. */
const stretched = (turn: Keys): Curves => ({
  "upper_arm_l rotation.y": lengthways,
  "upper_arm_r rotation.y": everyFrame(1, 60, () => 90),
  "upper_arm_l rotation.x": turn,
  "upper_arm_r rotation.x": turn,
});
/** Height of the line through the shoulders of the biped, metres. */
const shoulders = 0.95 + 0.1 + 0.2 + 0.17;
/** The same with a crate between the hands that goes up and down with them, about the line through the shoulders. */
const carrying =
  (course: Course, crate = course) =>
  () => {
    const turn = (frame: number) => (crate(frame) * Math.PI) / 180;
    return documentOf(
      [...bipedNodes, { id: "crate" }],
      {
        ...stretched(everyFrame(1, 60, course)),
        "crate translation.y": everyFrame(1, 60, (frame) => shoulders - 0.5 * Math.sin(turn(frame))),
        "crate translation.z": everyFrame(1, 60, (frame) => 0.5 * Math.cos(turn(frame))),
      },
      { more: { figures: [bipedFigure] } },
    );
  };

/** The lift of a thing as poses that are shown for half a second each: the hands are at it on the second of them. */
const inPoses = (frame: number) => 20 * Math.min(3, Math.floor(frame / 12));

/**
 * A jump in which both arms rise to the front and come down again, mirrored; frames are given from its landmarks. The
 * right arm makes a share of the left one's move.
 */
const jumping = (course: (takeOff: number, landing: number) => Course, share: number) => () => {
  const { takeOff, landing, motion } = jump();
  const up = course(takeOff, landing);
  const last = motion.last + 30;
  const arm = (letter: "l" | "r", sign: 1 | -1, size: number) => ({
    [`upper_arm_${letter} rotation.z`]: everyFrame(1, last, (frame) => sign * (-75 + 40 * size * up(frame))),
    [`upper_arm_${letter} rotation.y`]: everyFrame(1, last, (frame) => -sign * 60 * size * up(frame)),
  });
  return jumpDocument({ range: [1, last] }, { ...arm("l", 1, 1), ...arm("r", -1, share) });
};
const there =
  (from: number, top: number, down: number): Course =>
  (frame) =>
    eased(from, top, 0, 1)(frame) - eased(top, down, 0, 1)(frame);

/** A quick lift of both arms into a pose that both keep. */
const quick = (late = 0) => eased(20 + late, 29 + late, 0, 60);
/** The same in poses, by step keys. */
const posed: Keyed = {
  interpolation: "step",
  keys: [
    [1, -70],
    [20, -30],
    [40, -70],
    [60, -70],
  ],
};
const posedRight: Keyed = {
  interpolation: "step",
  keys: [
    [1, 70],
    [20, 30],
    [40, 70],
    [60, 70],
  ],
};
/** Legs that fold under hips that go down by the way: a body that sits down or squats. */
const folding = (angle: number): Curves => {
  const bend = eased(8, 36, 0, angle);
  return Object.fromEntries(
    ["l", "r"].flatMap((side) => [
      [`thigh_${side} rotation.x`, everyFrame(1, 60, (frame) => -bend(frame))],
      [`shin_${side} rotation.x`, everyFrame(1, 60, (frame) => 2 * bend(frame))],
    ]),
  );
};

/** Turns to and fro, each by so many degrees within eight frames, that set out at frames 10, 30, 50 and 70, or late. */
const beats =
  (angles: readonly number[], late = 0) =>
  (frame: number) =>
    angles.reduce(
      (sum, angle, k) =>
        sum + (k % 2 === 0 ? 1 : -1) * eased(10 + 20 * k + late, 18 + 20 * k + late, 0, angle)(frame),
      0,
    );
/** Two bipeds side by side whose heads, chests and one arm each act in four beats, the second one's late by some frames. */
const twoActing =
  (late: number, held: readonly string[] = [], isCopy = false) =>
  () => {
    const own = (id: string, name: string) => `${id}_${name}`;
    const figures = ["ada", "bo"].map((id) => ({
      id,
      parts: Object.fromEntries(
        Object.entries(bipedFigure.parts ?? {}).map(([part, nodes]) => [
          part,
          [nodes ?? []].flat().map((name) => own(id, name)),
        ]),
      ),
    }));
    const nodes = ["ada", "bo"].flatMap((id, n) =>
      bipedNodes.map(({ parent, ...node }) => ({
        ...node,
        id: own(id, node.id),
        ...(parent === undefined ? { translation: [2 * n, 0.95, 0] as const } : { parent: own(id, parent) }),
      })),
    );
    const acting = (id: string, turn: number, bow: number, arm: number, by: number) => ({
      [`${own(id, "head")} rotation.y`]: everyFrame(1, 96, beats([turn, 24, 30, 20], by)),
      [`${own(id, "chest")} rotation.x`]: everyFrame(1, 96, beats([6, bow, 9, 12], by)),
      [`${own(id, "upper_arm_l")} rotation.z`]: everyFrame(
        1,
        96,
        (f) => -60 + beats([arm, 10, 20, 30], by)(f),
      ),
    });
    const curves = {
      ...acting("ada", 30, 10, 20, 0),
      ...(isCopy ? acting("bo", 30, 10, 20, late) : acting("bo", 12, 18, 40, late)),
    };
    const plank = { id: "plank", translation: [1, 1, 0.4] as const };
    const heldBy = held.map((node) => ({ node, frames: [1, 96] as [number, number] }));
    return documentOf([...nodes, plank] as NodeSpec[], curves, {
      more: { figures, ...(held.length > 0 && { props: [{ node: "plank", mass: 20, heldBy }] }) },
    });
  };
const bothHands = ["ada_hand_l", "bo_hand_l"];

export const twinningExamples = defineExamples(twinning, {
  faulty: [
    {
      title: "arms that are lifted together, mirrored",
      motion: lifted(lift(), lift()),
      right: lifted(lift(), lift(5, 45)),
      note: { ...note, measured: 1 },
    },
    {
      title: "arms that are lifted together while the body turns",
      motion: lifted(lift(), lift(), { "hips rotation.y": everyFrame(1, 60, (frame) => 100 + 0.5 * frame) }),
      right: lifted(lift(), lift(5), {
        "hips rotation.y": everyFrame(1, 60, (frame) => 100 + 0.5 * frame),
      }),
      note: { ...note, measured: 1 },
    },
    {
      title: "arms of which the one is lifted a tenth less",
      motion: lifted(lift(), lift(0, 54)),
      right: lifted(lift(), lift(0, 36)),
      // The hands' ways are 6° apart at the end: cos 6° = 0.995.
      note: { ...note, measured: 1 },
    },
    {
      title: "arms that are lifted together, quickly, into a pose that both keep",
      motion: lifted(quick(), quick()),
      right: lifted(quick(), quick(4)),
      // Steps of over 1.28 % of the way: from the second one to the last but one.
      note: { ...note, frames: [21, 28], measured: 1 },
    },
    {
      title: "arms that go out and back together, in poses",
      motion: () => bipedDocument({ "upper_arm_l rotation.z": posed, "upper_arm_r rotation.z": posedRight }),
      right: () => bipedDocument({ "upper_arm_l rotation.z": posed }),
      note: { ...note, frames: [19, 40], measured: 1 },
    },
    {
      title: "arms that balance a body which goes down on both legs, the one a copy of the other",
      motion: lifted(lift(), lift(), folding(45)),
      right: lifted(lift(), lift(0, 56), folding(45)),
      note: { ...note, measured: 1 },
      unfixed:
        "its legs come to rest with the arms; an arm that is shifted would go on alone, as a freeze of all else",
    },
    {
      title: "two figures that act on the same frames, each in its own way",
      motion: twoActing(0),
      right: twoActing(4),
      note: {
        node: "ada_head",
        frames: [10, 78],
        key: { node: "bo_upper_arm_l", channel: "rotation.z" },
        measured: 1,
      },
      unfixed: "which of the figures is to come later is for whoever stages them",
    },
    {
      title: "two who carry a plank, the one a copy of the other",
      motion: twoActing(0, bothHands, true),
      note: {
        node: "ada_head",
        frames: [10, 78],
        key: { node: "bo_upper_arm_l", channel: "rotation.z" },
        measured: 1,
      },
      unfixed: "which of the figures is to come later is for whoever stages them",
    },
  ],
  silent: [
    {
      title: "two who carry a plank on the same frames, each bent in its own way",
      motion: twoActing(0, bothHands),
      unexcused: twoActing(0),
    },
    {
      title: "arms that balance a body which goes down on both legs",
      motion: lifted(lift(), lift(0, 56), folding(45)),
      unexcused: lifted(lift(), lift(0, 56), folding(10)),
    },
    { title: "an arm that comes two frames later", motion: lifted(lift(), lift(2)) },
    { title: "an arm that comes later", motion: lifted(lift(), lift(4)) },
    { title: "an arm that makes less of the move", motion: lifted(lift(), lift(0, 36)) },
    { title: "one arm alone", motion: lifted(lift(), () => 0) },
    {
      title: "arms that swing into a jump and out of it",
      motion: jumping((takeOff, landing) => there(takeOff - 14, takeOff + 2, landing + 10), 0.9),
    },
    {
      title: "arms that come down from balancing a landing",
      motion: jumping((_, landing) => there(landing, landing + 11, landing + 30), 0.9),
    },
    {
      title: "hands that swing one thing up and down",
      motion: carrying((frame) => 25 * Math.sin((2 * Math.PI * frame) / 48)),
      unexcused: () =>
        bipedDocument(stretched(everyFrame(1, 60, (frame) => 25 * Math.sin((2 * Math.PI * frame) / 48)))),
    },
    {
      title: "hands that lift one thing between two rests",
      motion: carrying(eased(20, 40, 0, 70)),
      unexcused: () => bipedDocument(stretched(easedKeys([1, 60], [20, 40], 70))),
    },
    {
      title: "hands that go to one thing and lift it, in poses",
      motion: carrying(inPoses, (frame) => Math.max(inPoses(frame), inPoses(12))),
      unexcused: () => bipedDocument(stretched(everyFrame(1, 60, inPoses))),
    },
    {
      title: "fore legs of a body that lies level",
      motion: () => documentOf(level, lifting(lift(), lift()), { more: { figures: [bipedFigure] } }),
      unexcused: lifted(lift(), lift()),
    },
    {
      title: "wings",
      motion: () =>
        birdDocument({
          first: 1,
          last: 60,
          body: (frame) => [0, 2, 0.05 * frame],
          wings: (frame) => 40 * Math.sin((2 * Math.PI * frame) / 12),
        }),
    },
  ],
  provocation: {
    shot: "quay_0070_v1",
    node: "upper_arm_r",
    frames: [6, 22],
    slip: "in the first version the right arm's keys are the left arm's, mirrored",
  },
  picture: {
    draws: "figure",
    seen: "front",
    at: [10, 24],
    only: ["spine"],
    marks: ["l", "r"].flatMap((side) => [`upper_arm_${side}`, `forearm_${side}`, `hand_${side}`]),
  },
});
