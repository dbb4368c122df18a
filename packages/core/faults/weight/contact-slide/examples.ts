import type { CurveDocument, CurveSpec } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  ankleHeight,
  type Curves,
  curveThrough,
  type DocumentOptions,
  degrees,
  documentOf,
  eased,
  type Foot,
  halfStance,
  inPoses,
  jumpDocument,
  type Motion,
  motionDocument,
  rolled,
  standing,
  type Vector,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { contactSlide } from "./check.ts";

/** Someone who sways over both feet, which do as they are told. */
export function stance(
  feet: Partial<Motion> = {},
  options: DocumentOptions = {},
  hips?: (frame: number) => Vector,
): CurveDocument {
  return motionDocument(
    {
      first: 1,
      last: 48,
      hips: hips ?? ((frame) => [0.04 * Math.sin(frame / 8), 0.9, 0.03 * Math.sin(frame / 6)]),
      left: () => standing("left"),
      right: () => standing("right"),
      ...feet,
    },
    options,
  );
}
const leftFoot = (left: (frame: number) => Foot) => () => stance({ left });

/** A left foot that goes forward on the ground by so many metres between two frames. */
export const shifted = (from: number, to: number, way: number) => (frame: number) =>
  standing("left", eased(from, to, 0, way)(frame));

/** Hips that go forward and back. */
const bowing = (frame: number): Vector => [0, 0.9, 0.03 * Math.sin(frame / 6)];

/** A left foot that hangs 6 cm over the floor from frame 12 on, and drifts forward there by so many metres. */
const adriftAloft = (way: number) => (frame: number) => {
  const { at } = standing("left", eased(16, 42, 0, way)(frame));
  return { at: [at[0], at[1] + eased(6, 12, 0, 0.06)(frame), at[2]] as const };
};

/**
 * A left foot that turns by an angle (degrees) about a point so far ahead of its ankle, and slides forward meanwhile.
 * The ball is 0.14 m ahead.
 */
export const swivelled =
  (ahead: number, angle: number, way = 0) =>
  (frame: number): Foot => {
    const yaw = eased(12, 30, 0, angle)(frame);
    const [x, y] = standing("left").at;
    const z = eased(12, 30, 0, way)(frame) + ahead * (1 - Math.cos(yaw / degrees));
    return { at: [x - ahead * Math.sin(yaw / degrees), y, z], yaw };
  };

/** Hips, and feet that hang on the figure's top node as controls do, with curves of their own. */
function controls(curves: Curves, more: Partial<CurveDocument> = {}): CurveDocument {
  return documentOf(
    [
      { id: "walker" },
      { id: "hips", parent: "walker", translation: [0, 0.95, 0] },
      { id: "head", parent: "hips", translation: [0, 0.6, 0] },
      { id: "foot_l", parent: "walker", translation: [0.1, 0.09, 0] },
      { id: "foot_r", parent: "walker", translation: [-0.1, 0.09, 0] },
    ],
    {
      "hips translation.z": [
        [1, 0],
        [48, 0.1],
      ],
      ...curves,
    },
    {
      range: [1, 48],
      more: {
        figures: [
          {
            id: "walker",
            stature: 1.7,
            parts: { root: "walker", head: "head", leftFoot: "foot_l", rightFoot: "foot_r" },
          },
        ],
        surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }],
        ...more,
      },
    },
  );
}
const slidKeys: CurveSpec["keys"] = [
  [1, 0],
  [20, 0],
  [30, 0.07],
  [48, 0.07],
];
const slid = { "foot_l translation.z": slidKeys };
const drifting: Curves = {
  "foot_l translation.x": [
    [1, 0.1],
    [12, 0.1],
    [90, 0.4],
  ],
};
const contact = { node: "foot_l", with: "floor", frames: [1, 48] as [number, number] };

/** Both feet that shuffle off in a hop, or come out of one, hardly off the ground, as in a boxer's shuffle. */
const shuffling = (way: 1 | -1) => (): CurveDocument => {
  const hop = (side: "left" | "right") => (frame: number) => {
    const n = Math.max(0, way * (frame - 24));
    const place = n < 7 ? 0.0045 * n * n : 0.0045 * 7 * (2 * n - 7);
    return { at: [standing(side).at[0], ankleHeight + 0.0006 * n * n, way * place] as const };
  };
  const range = way === 1 ? { first: 1, last: 36 } : { first: 12, last: 48 };
  return stance({ ...range, left: hop("left"), right: hop("right") }, {}, (frame) => [
    0,
    0.9,
    hop("left")(frame).at[2],
  ]);
};

/**
 * A body in five step-keyed poses: from the third one on its left foot is farther ahead, and so are its hips. In the second
 * one its heel may be up.
 */
const posed =
  (foot: number, hips: number, pitch = 0) =>
  (): CurveDocument =>
    inPoses(
      stance(
        {
          left: (frame) => (frame < 21 ? rolled("left", 0, frame < 11 ? 0 : pitch) : standing("left", foot)),
        },
        {},
        (frame) => [0, 0.86, 0.0005 * frame + (frame < 21 ? 0 : hips)],
      ),
      [1, 11, 21, 31, 41],
    );

const lift = curveThrough([
  [12, 0],
  [18, 0.12],
  [24, 0],
]);
const swung = (frame: number): Foot => ({
  at: [
    halfStance,
    ankleHeight + (frame > 12 && frame < 24 ? lift.at(frame) : 0),
    eased(12, 24, 0, 0.3)(frame),
  ],
});

/** Keys of the leg that carries the foot where it goes. */
const leg = [
  { node: "thigh_l", channel: "rotation.x" },
  { node: "shin_l", channel: "rotation.x" },
  { node: "foot_l", channel: "rotation.x" },
] as const;

export const contactSlideExamples = defineExamples(contactSlide, {
  faulty: [
    {
      title: "a foot that drifts 6 cm forward",
      motion: leftFoot(shifted(14, 30, 0.06)),
      right: leftFoot(() => standing("left")),
      // A smooth move of 16 frames has gone 3 % of its way after 2.5 frames, and 97 % as long before its end.
      note: { node: "foot_l", frames: [15, 29], key: leg, measured: 0.06 },
    },
    {
      title: "a foot that is keyed on its own and slides from one key to the next",
      motion: () => controls(slid),
      right: () => controls({}),
      note: {
        node: "foot_l",
        frames: [20, 30],
        // From the key at 20 to that at 30: either is where the other one should be.
        key: { node: "foot_l", channel: "translation.z" },
        measured: 0.07,
      },
      unfixed: "a fix holds a foot by the turns of its leg, and this foot has none",
    },
    {
      title: "a declared contact that drifts on to the end of the shot",
      motion: () => controls(drifting, { contacts: [contact] }),
      right: () => controls({}, { contacts: [contact] }),
      // No key ends the drift; the one that it leaves is named. It takes a frame for 3 % of its way.
      note: {
        node: "foot_l",
        frames: [12, 48],
        key: { node: "foot_l", channel: "translation.x", frame: 12 },
        measured: (0.3 * (48 - 12)) / (90 - 12),
      },
      unfixed: "a fix holds a foot by the turns of its leg, and this foot has none",
    },
    {
      title: "a foot that slides 4 cm while it turns",
      motion: leftFoot(swivelled(0.07, 35, 0.04)),
      right: leftFoot(swivelled(0.07, 35)),
      // The point that goes least lies 2 cm ahead of the one turned about: the cosine of half the turn. Every key of the
      // leg takes part in the turn; the slip is the thigh's swing, hardly behind the foot's turn, which is named.
      unfixed:
        "held by its ankle it would slide at its toes, and the other way round: what it turns about has to be chosen",
      note: {
        node: "foot_l",
        frames: [13, 28],
        key: [...leg, { node: "foot_l", channel: "rotation.y" }],
        measured: 0.04 * Math.cos(17.5 / degrees),
      },
    },
    {
      title: "a foot that stands in the air and drifts there",
      motion: () => stance({ left: adriftAloft(0.05) }, {}, bowing),
      right: () => stance({ left: adriftAloft(0) }, {}, bowing),
      note: { node: "foot_l", frames: [18, 40], key: leg, measured: 0.05 },
    },
    {
      title: "a foot that turns by 100° about its ball",
      motion: leftFoot(swivelled(0.14, 100)),
      right: leftFoot(swivelled(0.14, 50)),
      note: { node: "foot_l", frames: [13, 29], measured: 100 },
      unfixed: "a turn takes a step, and no step is keyed for anybody",
    },
    {
      title: "a foot that is pushed 9 cm forward between two poses, while the hips stay",
      motion: posed(0.09, 0),
      right: posed(0, 0),
      note: { node: "foot_l", frames: [20, 21], key: leg, measured: 0.09 },
    },
  ],
  silent: [
    { title: "feet that stand while the body sways", motion: () => stance() },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a walk on flat feet", motion: () => walkDocument({ roll: 0 }) },
    {
      title: "quick, long steps",
      motion: () => walkDocument({ stepFrames: 9, stepLength: 0.6, roll: 45 }),
    },
    { title: "a jump forward", motion: () => jumpDocument({ forward: 1 }) },
    { title: "a slide of less than can be seen", motion: leftFoot(shifted(14, 30, 0.019)) },
    { title: "a foot in the air", motion: leftFoot(swung) },
    {
      title: "a contact that is declared to slide",
      motion: () => controls(slid, { contacts: [{ ...contact, slides: true }] }),
      unexcused: () => controls(slid, { contacts: [contact] }),
    },
    {
      title: "a turn about the ball",
      motion: leftFoot(swivelled(0.14, 50)),
      unexcused: leftFoot(swivelled(0.14, 100)),
    },
    { title: "a turn about the heel", motion: leftFoot(swivelled(0, 35)) },
    { title: "a turn about a point between them", motion: leftFoot(swivelled(0.07, 35)) },
    {
      title: "a low, quick step beside a standing foot",
      motion: leftFoot(shifted(14, 20, 0.2)),
      unexcused: leftFoot(shifted(14, 38, 0.2)),
    },
    {
      title: "a step that step keys cut over, and which takes the hips along",
      motion: posed(0.09, 0.045),
      unexcused: posed(0.09, 0),
    },
    {
      title: "a step without the hips, for which the heel is up in the pose before",
      motion: posed(0.09, 0, 30),
      unexcused: posed(0.09, 0),
    },
    { title: "a step to the front by more than a foot's length, in step keys", motion: posed(0.3, 0) },
    { title: "feet that set off into a swing along the ground", motion: shuffling(1) },
    { title: "feet that come out of a swing along the ground", motion: shuffling(-1) },
    {
      title: "a foot that rolls over its ball",
      motion: leftFoot((frame) => rolled("left", 0, eased(10, 34, 0, 40)(frame))),
    },
  ],
  provocation: {
    shot: "jetty_0040_v1",
    node: "foot_l",
    frames: [1097, 1107],
    slip: "in the first version the left foot slides on the post while the heron hauls",
  },
  picture: { draws: "figure", seen: "side", at: [14, 22, 30], only: ["shin_l"] },
});
