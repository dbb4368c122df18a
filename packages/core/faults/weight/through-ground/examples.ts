import { radiansPerDegree } from "../../../base/constants.ts";
import type { CurveDocument, CurveSpec } from "../../../document/schema.ts";
import { inPoses } from "../../shared/examples/documents.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  ankleHeight,
  type Curves,
  type DocumentOptions,
  eased,
  type Foot,
  halfStance,
  jumpDocument,
  motionDocument,
  rolled,
  standing,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { throughGround } from "./check.ts";

/** A left foot that is pressed into the floor and comes up again. */
export const pressed =
  (depth: number) =>
  (frame: number): Foot => {
    const down = eased(14, 20, 0, depth)(frame) - eased(24, 30, 0, depth)(frame);
    return { at: [halfStance, ankleHeight - down, 0] };
  };

export const stance =
  (left: (frame: number) => Foot, options: DocumentOptions = {}, curves: Curves = {}) =>
  (): CurveDocument =>
    motionDocument(
      { first: 1, last: 48, hips: () => [0, 0.86, 0], left, right: () => standing("right") },
      options,
      curves,
    );
const still = () => standing("left");

/** The same of a rig whose rest pose does not stand: something hangs lower than its feet, and no sole is known. */
const unknown = (left: (frame: number) => Foot) => (): CurveDocument => {
  const document = stance(left)();
  const cord = { id: "cord", parent: "hips", translation: [0, -1.3, 0] as [number, number, number] };
  return { ...document, surfaces: [], nodes: [...document.nodes, cord] };
};

/** How far the spine bends in a squat on the fingers of the left hand, and how far these are under the hips there. */
const bent = 80;
const fingersUnderHips =
  (0.28 + 0.25 + 0.09) * Math.sin(bent * radiansPerDegree) -
  0.1 -
  (0.2 + 0.17) * Math.cos(bent * radiansPerDegree);

/** Someone who squats with the left arm straight down to the floor, and sinks by some way and comes up again. */
const squatting = (sinks: number) => (): CurveDocument => {
  const down = (frame: number) => eased(14, 20, 0, sinks)(frame) - eased(24, 30, 0, sinks)(frame);
  return motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [0, 0.46 - down(frame), 0],
      left: still,
      right: () => standing("right"),
    },
    {},
    {
      "spine rotation.x": [
        [1, bent],
        [48, bent],
      ],
      "upper_arm_l rotation.y": [
        [1, -90],
        [48, -90],
      ],
    },
  );
};

/**
 * A long stand on a ground that nobody declared: after eight frames the left foot sinks by some way and the right one comes up by
 * 5 cm, for good. How they stood together until then is how they stand at rest.
 */
const partFor = (sinks: number) => (): CurveDocument => {
  const gone = eased(9, 15, 0, 1);
  const document = motionDocument({
    first: 1,
    last: 120,
    hips: () => [0, 0.84, 0],
    left: (frame) => ({ at: [halfStance, ankleHeight - sinks * gone(frame), 0] }),
    right: (frame) => ({ at: [-halfStance, ankleHeight + 0.05 * gone(frame), 0] }),
  });
  return { ...document, surfaces: [] };
};

/** Five keys of which the third goes wrong. */
const slipped = (usual: number, wrong: number): CurveSpec["keys"] => [
  [1, usual],
  [18, usual],
  [22, wrong],
  [26, usual],
  [48, usual],
];

/** Someone on the left foot, the right one in the air; a key of the hips' height is another. */
const onOneFoot = (height: number) => (): CurveDocument =>
  motionDocument(
    {
      first: 1,
      last: 48,
      hips: () => [halfStance, 0.86, 0],
      left: still,
      right: () => ({ at: [-halfStance, ankleHeight + 0.2, 0] }),
    },
    {},
    { "hips translation.y": slipped(0.86, height) },
  );

const floor = { id: "floor", height: 0 };
const step = { id: "step", height: 0.2 };
const surfaces = [floor, step];
/** A left foot on a step that goes so deep into it, beside a right one on the floor. */
const onStep = (depth: number) =>
  stance((frame) => ({ at: [halfStance, ankleHeight + 0.2 - eased(14, 20, 0, depth)(frame), 0] }), {
    more: { surfaces },
  });
/** How far toes that are turned down by an angle go under the level on which they lie flat. */
const below = (degrees: number) => {
  const angle = (degrees * Math.PI) / 180;
  return 0.07 * Math.sin(angle) + 0.01 * Math.cos(angle) - 0.01;
};

/** A left foot that goes up from the floor onto the step, which begins 15 cm in front of it. */
const stepUp = stance(
  (frame) => {
    const [up, on] = [
      eased(10, 18, 0, 0.26)(frame) - eased(16, 22, 0, 0.06)(frame),
      eased(12, 20, 0, 0.3)(frame),
    ];
    return { at: [halfStance, ankleHeight + up, on] };
  },
  {
    more: {
      surfaces: [
        { id: "floor", height: 0 },
        {
          id: "step",
          height: 0.2,
          edges: [
            [-1, 0.15],
            [1, 1],
          ],
        },
      ],
    },
  },
);

/** Poses of a left foot on its way up: it is held 4 cm in the step, for one pose or for good. */
const heldInStep = (stays: boolean) => () => {
  const inIt: Foot = { at: [halfStance, ankleHeight + 0.16, 0.18] };
  const onIt: Foot = { at: [halfStance, ankleHeight + 0.2, 0.38] };
  const way = (frame: number) => (frame < 12 ? standing("left") : frame < 22 || stays ? inIt : onIt);
  return inPoses(
    stance(way, {
      more: {
        surfaces: [
          floor,
          {
            ...step,
            edges: [
              [-1, 0.15],
              [1, 1],
            ],
          },
        ],
      },
    })(),
    [1, 12, 22, 34],
  );
};

export const throughGroundExamples = defineExamples(throughGround, {
  // 0.6 % of 1.7 m are 1 cm: where feet stand exactly, what is less deep is not seen.
  faulty: [
    {
      title: "a foot that goes 4 cm into the floor",
      motion: stance(pressed(0.04)),
      right: stance(still),
      // 26 % of the way, which smooth moves of six frames pass at 16.1 and 27.9.
      note: {
        node: "foot_l",
        frames: [17, 27],
        key: [
          { node: "thigh_l", channel: "rotation.x" },
          { node: "shin_l", channel: "rotation.x" },
        ],
        measured: 0.04,
      },
    },
    {
      title: "a key of the hips that presses the standing foot 5 cm down",
      motion: onOneFoot(0.81),
      right: onOneFoot(0.86),
      note: {
        node: "foot_l",
        frames: [19, 25],
        key: { node: "hips", channel: "translation.y", frame: 22 },
        measured: 0.05,
      },
    },
    {
      title: "toes that point into the floor",
      motion: stance(still, {}, { "toes_r rotation.x": slipped(0, 60) }),
      right: stance(still),
      unfixed: "the toes have to bend; bringing the foot up lifts the ball off the ground",
      note: {
        node: "foot_r",
        frames: [19, 25],
        key: { node: "toes_r", channel: "rotation.x", frame: 22 },
        measured: below(60),
      },
    },
    {
      title: "a foot that goes 4 cm into the step on which it stands, beside the floor",
      motion: onStep(0.04),
      right: onStep(0),
      // A centimetre deep with frame 16, and so slow from frame 19 on that it stands.
      note: {
        node: "foot_l",
        frames: [19, 48],
        key: [
          { node: "shin_l", channel: "rotation.x" },
          { node: "thigh_l", channel: "rotation.x" },
        ],
        measured: 0.04,
      },
    },
    {
      title: "a hand that goes into the floor with the body, while the feet stand",
      motion: squatting(0.08),
      right: squatting(0),
      // 0.0125 of 1.7 m deep is 44 % of the way, which frame 17 has passed.
      note: {
        node: "hand_l",
        frames: [17, 27],
        key: { node: "hips", channel: "translation.y" },
        measured: fingersUnderHips - 0.46 + 0.08,
      },
    },
    {
      title: "a foot that sinks 3 cm for most of the shot, after both have stood as at rest",
      motion: partFor(0.03),
      right: partFor(0),
      // 34 % of the way, which a smooth move of six frames passes at 11.5.
      note: {
        node: "foot_l",
        frames: [12, 120],
        key: [
          { node: "thigh_l", channel: "rotation.x" },
          { node: "shin_l", channel: "rotation.x" },
        ],
        measured: 0.03,
      },
    },
  ],
  silent: [
    { title: "feet that stand", motion: stance(still) },
    {
      title: "a foot that stands all along, beside one that comes up for most of the shot",
      motion: partFor(0),
    },
    { title: "a hand whose fingers are a little over the floor", motion: squatting(0) },
    {
      title: "a sole that nothing tells, 2.8 cm under the level of its plants",
      motion: unknown(pressed(0.028)),
      unexcused: stance(pressed(0.028)),
    },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a jump", motion: () => jumpDocument() },
    {
      title: "a foot that rolls onto its ball",
      motion: stance((frame) => rolled("left", 0, eased(12, 24, 0, 40)(frame))),
    },
    { title: "a depth within the tolerance", motion: stance(pressed(0.008)) },
    {
      title: "a single frame",
      motion: stance((frame) => ({ at: [halfStance, ankleHeight - (frame === 20 ? 0.05 : 0), 0] })),
    },
    {
      title: "soft ground, where the tolerance is raised",
      motion: stance(pressed(0.04)),
      config: { checks: { "through-ground": { values: { depth: { value: 0.03, unit: "H" } } } } },
    },
    { title: "a foot that swings past the edge of a step onto it", motion: stepUp },
    {
      title: "a foot that step keys hold in a step for one pose on its way up",
      motion: heldInStep(false),
      unexcused: heldInStep(true),
    },
  ],
  provocation: {
    shot: "steps_0110_v1",
    node: "foot_r",
    frames: [67, 77],
    slip: "in the first version the right foot goes through the ground at the foot of the steps",
  },
  picture: { draws: "figure", seen: "side", at: [22], only: ["shin_l"] },
});
