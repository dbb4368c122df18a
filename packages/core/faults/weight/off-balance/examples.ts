import { inRadians } from "../../../base/constants.ts";
import type { CurveDocument } from "../../../document/schema.ts";
import { chairDocument } from "../../shared/examples/chairs.ts";
import { documentOf, everyFrame } from "../../shared/examples/documents.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { onEveryFrame } from "../../shared/examples/keying.ts";
import { reaching } from "../../shared/examples/limbs.ts";
import {
  ankleHeight,
  type DocumentOptions,
  eased,
  type Foot,
  g,
  halfStance,
  inPoses,
  jumpDocument,
  motionDocument,
  standing,
  type Vector,
  walkDocument,
} from "../../shared/examples/motions.ts";
import { offBalance } from "./check.ts";

export const stance = (
  hips: (frame: number) => Vector,
  options: DocumentOptions = {},
  left: (frame: number) => Foot = () => standing("left"),
): CurveDocument =>
  motionDocument({ first: 1, last: 60, hips, left, right: () => standing("right") }, options);

/** Hips that go forward by so many metres between frames 10 and 34, and stay there. */
export const leaning =
  (way: number) =>
  (frame: number): Vector => [0, 0.86, eased(10, 34, 0, way)(frame)];

/** Someone who lifts the right foot straight up, while the hips are at another place beside the middle. */
const onOneFoot =
  (beside: (frame: number) => number, options: DocumentOptions = {}) =>
  (): CurveDocument =>
    motionDocument(
      {
        first: 1,
        last: 60,
        hips: (frame) => [beside(frame), 0.86, 0],
        left: () => standing("left"),
        right: (frame) => ({ at: [-halfStance, ankleHeight + eased(16, 26, 0, 0.3)(frame), 0] }),
      },
      options,
    );

/** Someone who lifts a foot and stays over the middle, with arms that are declared to carry the body as wings do, and beat. */
const winged = (beat: number) => (): CurveDocument => {
  const document = onOneFoot(() => 0, {
    more: { propulsors: [{ figure: "walker", nodes: ["upper_arm_l"], channel: "rotation.z" }] },
  })();
  const keys = everyFrame(1, 60, (frame) => beat * Math.sin((frame * Math.PI) / 8));
  return {
    ...document,
    curves: [...document.curves, { node: "upper_arm_l", channel: "rotation.z", keys }],
  };
};

/** Height of its mass over the joint that turns, metres. */
const postCentre = (0.5 ** 3 * 0.25 + 0.6 ** 3 * 0.8) / (0.5 ** 3 + 0.6 ** 3);

/** A body on one foot, 1.2 m high, that leans over by some degrees between frames 40 and 50, and back by frame 80. */
const post = (lean: number) => (): CurveDocument =>
  documentOf(
    [
      { id: "foot", translation: [0, 0.04, 0] },
      { id: "shin", parent: "foot", translation: [0, 0.06, 0] },
      { id: "seat", parent: "shin", translation: [0, 0.5, 0] },
      { id: "top", parent: "seat", translation: [0, 0.6, 0] },
    ],
    {
      "shin rotation.z": everyFrame(
        1,
        120,
        (frame) => eased(40, 50, 0, lean)(frame) - eased(70, 80, 0, lean)(frame),
      ),
    },
    {
      range: [1, 120],
      more: {
        surfaces: [{ id: "floor", height: 0 }],
        contacts: [{ node: "foot", with: "floor", frames: [1, 120] }],
      },
    },
  );

/**
 * Poses in step keys: someone stands, hangs 0.36 m ahead of the ankles from frame 21 on, for so many frames, and stands
 * again: over the same feet, or with one under the body.
 */
const hanging =
  (frames: number, steps = false) =>
  (): CurveDocument => {
    const until = 21 + frames;
    const ahead = (frame: number) => (frame < 21 || (frame >= until && !steps) ? 0 : 0.36);
    const document = motionDocument({
      first: 1,
      last: 60,
      hips: (frame) => [0, 0.86, ahead(frame)],
      left: (frame) => standing("left", steps && frame >= until ? 0.5 : 0),
      right: () => standing("right"),
    });
    return inPoses(document, [1, 11, 21, until, until + 10]);
  };

/** Poses in step keys: someone stands, then leans far ahead over both feet, and then is so high over the floor. */
const takingOff = (height: number) => (): CurveDocument => {
  const feet = (frame: number) => (frame < 41 ? 0 : height);
  const document = motionDocument({
    first: 1,
    last: 46,
    hips: (frame) => [0, 0.86 + feet(frame), frame < 26 ? 0 : 0.36],
    left: (frame) => ({ at: [halfStance, ankleHeight + feet(frame), 0] }),
    right: (frame) => ({ at: [-halfStance, ankleHeight + feet(frame), 0] }),
  });
  return inPoses(document, [1, 11, 26, 41]);
};

/** Someone at 3 m/s who slides along on both feet and stops within some frames. */
const stopping = (frames: number) => (): CurveDocument => {
  const path = (frame: number) => {
    const stop = Math.max(0, Math.min(1, (frame - 30) / frames));
    return 0.125 * (Math.min(frame, 30) - 1) + 0.125 * frames * (stop - (stop * stop) / 2);
  };
  return motionDocument(
    {
      first: 1,
      // It ends before the stance gets to be a freeze.
      last: 35 + frames,
      hips: (frame) => [0, 0.86, path(frame)],
      left: (frame) => standing("left", path(frame)),
      right: (frame) => standing("right", path(frame)),
    },
    {
      more: {
        contacts: ["foot_l", "toes_l", "foot_r", "toes_r"].map((node) => ({
          node,
          with: "floor",
          slides: true,
          frames: [1, 60],
        })),
      },
    },
  );
};

/** Someone who leans ahead over both feet, and takes off from that into a jump of half a second. */
const leaping = (): CurveDocument => {
  const [takeOff, air] = [34, 12];
  const t = (frame: number) => Math.min(air, Math.max(0, frame - takeOff)) / 24;
  const up = (frame: number) => 0.5 * g * t(frame) * (air / 24 - t(frame));
  const on = (frame: number) => 0.4 * t(frame) + eased(takeOff + air, takeOff + air + 14, 0, 0.08)(frame);
  const foot = (side: "left" | "right") => (frame: number) => {
    const { at } = standing(side);
    const ahead = (leaning(0.36)(takeOff)[2] + 0.28) * (t(frame) / (air / 24));
    return { at: [at[0], at[1] + up(frame), ahead] as Vector };
  };
  return motionDocument({
    first: 1,
    last: 60,
    hips: (frame) => [0, 0.86 + up(frame), leaning(0.36)(frame)[2] + on(frame)],
    left: foot("left"),
    right: foot("right"),
  });
};

/** The left foot on its way from frame 26, which lands under the body on frame 36. */
const catching = (frame: number): Foot => {
  const t = Math.min(1, Math.max(0, (frame - 26) / 10));
  return { at: [halfStance, ankleHeight + 0.1 * Math.sin(Math.PI * t) ** 2, 0.5 * t * t * (3 - 2 * t)] };
};

/** Someone who falls ahead and to the right, and whose left foot lands beyond the body, or stays where it is. */
const lunging = (steps: boolean) => (): CurveDocument => {
  const t = (frame: number) => Math.min(1, Math.max(0, (frame - 26) / 10));
  const ahead = (frame: number) => 0.75 * t(frame) ** 2 * (3 - 2 * t(frame));
  return motionDocument({
    first: 1,
    last: 60,
    hips: (frame) => [
      eased(14, 36, 0, -0.1)(frame) + eased(36, 44, 0, 0.1)(frame),
      eased(14, 40, 0.88, 0.74)(frame),
      eased(14, 42, 0, 0.42)(frame),
    ],
    left: (frame) =>
      steps
        ? { at: [halfStance, ankleHeight + 0.1 * Math.sin(Math.PI * t(frame)) ** 2, ahead(frame)] }
        : standing("left"),
    right: () => standing("right"),
  });
};

/** How far ahead that hand is, metres: an arm of 0.53 m that is 80° round to the front, 0.36 m ahead with the hips. */
const handAhead = 0.36 + 0.53 * Math.sin(inRadians(80));

/** Someone who leans forward, with a hand where a wall is, or a little before it. */
const atWall = (gap: number) => (): CurveDocument => {
  const document = held();
  const { contacts: _, ...free } = document;
  return {
    ...free,
    surfaces: [
      { id: "floor", height: 0 },
      {
        id: "wall",
        normal: [0, 0, -1],
        height: -handAhead - gap,
        edges: [
          [-1, 0],
          [1, 2],
        ],
      },
    ],
  };
};

/** Someone who leans forward onto a hand on a rail. */
function held(): CurveDocument {
  const document = stance(leaning(0.36), {
    more: { contacts: [{ node: "hand_l", with: "rail", frames: [1, 60] }] },
  });
  const reach: [number, number][] = [
    [1, -80],
    [60, -80],
  ];
  return {
    ...document,
    curves: [...document.curves, { node: "upper_arm_l", channel: "rotation.y", keys: reach }],
  };
}

/** Someone whose right foot hovers over the floor that is declared, by so many metres, with hips at a place to the left. */
const hovering = (lift: number, beside: (frame: number) => number) => (): CurveDocument =>
  motionDocument({
    first: 1,
    last: 60,
    hips: (frame) => [beside(frame), 0.84, 0],
    left: () => standing("left"),
    right: () => ({ at: [-halfStance, ankleHeight + lift, 0] }),
  });

const sides = ["l", "r"] as const;
/** How far the hips are pushed, 0 to 1. */
const pushed = eased(104, 118, 0, 1);

export const offBalanceExamples = defineExamples(offBalance, {
  faulty: [
    {
      title: "someone who lifts a foot and stays over the middle",
      motion: onOneFoot(() => 0),
      right: onOneFoot(eased(2, 16, 0, halfStance)),
      // Both legs hang straight down, so that the mass lies on the middle, 10 cm beside the foot that stands, whose inner
      // edge is half of 0.055 body heights nearer. The other one is 5 cm up on frame 19.
      note: {
        node: "hips",
        frames: [20, 60],
        key: { node: "hips", channel: "translation.x" },
        measured: halfStance - (0.055 / 2) * 1.7,
      },
    },
    {
      title: "a stop that no sole can grip",
      motion: stopping(4),
      right: stopping(40),
      // The mean over five frames takes in all of the 3 m/s at frame 32, and five eighths, a friction of 0.92, at frames
      // 30 and 34.
      note: {
        node: "hips",
        frames: [30, 34],
        key: { node: "hips", channel: "translation.z" },
        measured: 3 / (5 / 24) / g,
      },
    },
    {
      title: "a body on one foot that hangs over beside it",
      motion: post(12),
      right: post(3),
      // Shin and seat weigh by the cubes of their lengths, as a body of one build does. The body is caught from frame
      // 42 on: what brakes it presses farther out than it is.
      note: {
        node: "foot",
        frames: [42, 75],
        key: { node: "shin", channel: "rotation.z" },
        measured: postCentre * Math.sin(inRadians(12)),
      },
      unfixed: "what turns it stands on the foot: no shift of the hips brings the mass back",
    },
    {
      title: "a pose in step keys, held for a quarter of a second, that its feet cannot hold",
      motion: hanging(6),
      right: hanging(6, true),
      note: {
        node: "hips",
        frames: [21, 26],
        key: { node: "hips", channel: "translation.z" },
        // The mass is 0.3165 m ahead of the ankles; a sole ends three quarters of 0.152 body heights ahead, the toes 0.21 m.
        measured: 0.1065,
      },
    },
    {
      title: "someone who rises from a chair with the weight behind the feet",
      motion: () => chairDocument({ seat: 0.42, rises: "behind the feet", as: "prop" }),
      right: () => chairDocument({ seat: 0.42, rises: "over the feet", as: "prop" }),
      note: {
        node: "hips",
        // On frame 104 the hips have risen by 0.03 body heights; what carries has to do so for two frames. On frame 138 the
        // mass comes over the heels.
        frames: [106, 137],
        key: { node: "hips", channel: "translation.z" },
        // By de Leva's table: 36 cm behind the ankles 0.603 of the mass, the thighs' 23, the shins' 2 cm behind, the feet's 5
        // ahead; the heels end a quarter of a sole behind the ankles.
        measured: 0.2825 - 0.25 * 0.152 * 1.7,
      },
    },
    {
      title: "someone who lets an upright body down on a chair behind the feet",
      motion: () => chairDocument({ seat: 0.42, rises: "over the feet", sits: "upright", as: "prop" }),
      right: () => chairDocument({ seat: 0.42, rises: "over the feet", as: "prop" }),
      note: {
        node: "hips",
        // On frame 22 the mass is 6 cm behind the heels. The thighs are down on the seat on frame 53: for the last five frames
        // the hips come down as fast as a body topples.
        frames: [22, 47],
        key: { node: "hips", channel: "translation.z" },
        // As on the way up: 36 cm behind the ankles, 0.8 m high for most of the time.
        measured: 0.2825 - 0.25 * 0.152 * 1.7,
      },
    },
  ],
  silent: [
    { title: "someone who stands", motion: () => stance(() => [0, 0.9, 0]) },
    {
      title: "someone who sways",
      motion: () => stance((frame) => [0.05 * Math.sin(frame / 8), 0.9, 0.04 * Math.sin(frame / 7)]),
    },
    { title: "a walk", motion: () => walkDocument() },
    { title: "a quick walk", motion: () => walkDocument({ stepFrames: 9, stepLength: 0.6 }) },
    { title: "a jump forward", motion: () => jumpDocument({ forward: 1 }) },
    { title: "a lean within the feet", motion: () => stance(leaning(0.2)) },
    {
      title: "a step that comes in time",
      motion: () => stance(leaning(0.34), {}, catching),
      unexcused: () => stance(leaning(0.34)),
    },
    {
      title: "a lean ahead from which the body takes off",
      motion: leaping,
      unexcused: () => stance(leaning(0.36)),
    },
    { title: "a declared contact of a hand", motion: held, unexcused: () => ({ ...held(), contacts: [] }) },
    {
      title:
        "a step that lands beyond the body in the direction of its fall, while the body is still beside it",
      motion: lunging(true),
      unexcused: lunging(false),
    },
    {
      title: "a hand that rests on a wall that is declared",
      motion: atWall(0.01),
      unexcused: atWall(0.3),
    },
    {
      title: "a figure whose wings beat",
      motion: winged(30),
      unexcused: winged(0),
    },
    { title: "a body on one foot that sways over it", motion: post(3) },
    {
      title: "someone over the middle of two feet, one of which hovers: that is no fault of the balance",
      motion: hovering(0.08, () => 0),
      unexcused: onOneFoot(() => 0),
    },
    {
      title: "a body that sits",
      motion: () => stance(() => [0, 0.5, -0.4]),
      unexcused: () => stance(() => [0, 0.86, -0.4]),
    },
    {
      title: "someone who sits down on a high chair, leans back, and rises with the weight over the feet",
      motion: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "prop" }),
      unexcused: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "nothing" }),
    },
    {
      title: "the same on a surface with edges",
      motion: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "surface" }),
      unexcused: () => chairDocument({ seat: 0.56, rises: "over the feet", as: "nothing" }),
    },
    {
      // The hips' joint is over 0.6 of the leg's length, the joints of the thighs are not: they lie nearly level.
      title: "a body that sits as high as its shins are long",
      motion: () => stance(() => [0, 0.605, -0.4]),
      unexcused: () => stance(() => [0, 0.68, -0.4]),
    },
    {
      title: "a pose on the way, which step keys hold for five frames",
      motion: hanging(5),
      unexcused: hanging(6),
    },
    {
      title: "a pose in step keys in which the body falls onto the foot of the next one",
      motion: hanging(6, true),
      unexcused: hanging(6),
    },
    {
      title: "a pose of step keys from which the body takes off",
      motion: takingOff(0.5),
      unexcused: takingOff(0),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [112, 136],
    slip: "after the landing the hips are pushed out over nothing, 28 cm to the side, and stay there",
    edits: [
      (shot) => [
        ...onEveryFrame(shot, "hips", "translation.x", 104, 136, (x, frame) => x + 28 * pushed(frame)),
        ...onEveryFrame(shot, "hips", "translation.y", 104, 136, (y, frame) => y - 8 * pushed(frame)),
      ],
      (shot, before) =>
        sides.flatMap((side) =>
          reaching(
            shot,
            { limb: [`thigh_${side}`, `shin_${side}`, `foot_${side}`], frames: [104, 136] },
            before,
          ),
        ),
    ],
  },
  picture: { draws: "figure", seen: "front", at: [48], mass: true },
});
