import { inRadians } from "../../../base/constants.ts";
import type { CurveDocument, NodeSpec } from "../../../document/schema.ts";
import { documentOf, everyFrame } from "../../shared/examples/documents.ts";
import {
  ankleHeight,
  type DocumentOptions,
  eased,
  type Foot,
  g,
  halfStance,
  inPoses,
  motionDocument,
  standing,
  type Vector,
} from "../../shared/examples/motions.ts";

/** What bodies do in the examples of this fault. */

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
export const onOneFoot =
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
export const winged = (beat: number) => (): CurveDocument => {
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
export const postCentre = (0.5 ** 3 * 0.25 + 0.6 ** 3 * 0.8) / (0.5 ** 3 + 0.6 ** 3);

/** A body on one foot, 1.2 m high, that leans over by some degrees between frames 40 and 50, and back by frame 80. */
export const post = (lean: number) => (): CurveDocument =>
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
export const hanging =
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

/**
 * Poses in step keys: someone stands, lifts the right foot for eight frames and sets it down again. The body is beside the
 * middle by so much while the foot is up, and by so much before and after.
 */
export const kicking =
  (up: number, before = 0, after = before) =>
  (): CurveDocument => {
    const isUp = (frame: number) => frame >= 21 && frame < 29;
    const document = motionDocument({
      first: 1,
      last: 48,
      hips: (frame) => [isUp(frame) ? up : frame < 21 ? before : after, 0.86, 0],
      left: () => standing("left"),
      right: (frame) => ({ at: [-halfStance, ankleHeight + (isUp(frame) ? 0.3 : 0), 0] }),
    });
    return inPoses(document, [1, 11, 21, 29, 38]);
  };

/** Poses in step keys: someone stands, then leans far ahead over both feet, and then is so high over the floor. */
export const takingOff = (height: number) => (): CurveDocument => {
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
export const stopping = (frames: number) => (): CurveDocument => {
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
export const leaping = (): CurveDocument => {
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
export const catching = (frame: number): Foot => {
  const t = Math.min(1, Math.max(0, (frame - 26) / 10));
  return { at: [halfStance, ankleHeight + 0.1 * Math.sin(Math.PI * t) ** 2, 0.5 * t * t * (3 - 2 * t)] };
};

/** Someone who falls ahead and to the right, and whose left foot lands beyond the body, or stays where it is. */
export const lunging = (steps: boolean) => (): CurveDocument => {
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
export const atWall = (gap: number) => (): CurveDocument => {
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
export function held(): CurveDocument {
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

/** Where the left hand of {@link held} is across the middle, metres. */
const handBeside = 0.262;

/** Someone who leans forward with a hand at a post, or so many metres before it. */
export const atPost = (gap: number) => (): CurveDocument => {
  const { contacts: _, ...free } = held();
  const post: NodeSpec = {
    id: "post",
    translation: [handBeside, 0, handAhead + gap],
    shapes: [{ kind: "capsule", from: [0, 0, 0], to: [0, 2, 0], radius: 0.02 }],
  };
  return { ...free, nodes: [...free.nodes, post] };
};

/** Someone whose right foot hovers over the floor that is declared, by so many metres, with hips at a place to the left. */
export const hovering = (lift: number, beside: (frame: number) => number) => (): CurveDocument =>
  motionDocument({
    first: 1,
    last: 60,
    hips: (frame) => [beside(frame), 0.84, 0],
    left: () => standing("left"),
    right: () => ({ at: [-halfStance, ankleHeight + lift, 0] }),
  });

export const sides = ["l", "r"] as const;
/** How far the hips are pushed, 0 to 1. */
export const pushed = eased(104, 118, 0, 1);
