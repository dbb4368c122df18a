import {
  bipedDocument,
  chainDocument,
  documentOf,
  eased,
  everyFrame,
  jump,
  onTwos,
  pathDocument,
  pointDocument,
} from "../../shared/examples/motions.ts";

/** What parts do in the examples of this fault. */

export const offFor = (frames: number, off: number) => (frame: number) =>
  frame >= 20 && frame < 20 + frames ? off : 0;
export const straight = (off: (frame: number) => number) => () =>
  pathDocument(1, 48, (frame) => [0.03 * frame, off(frame), 0]);
export const arm = (slip: number) => () =>
  chainDocument(3, {
    "joint_1 rotation.z": everyFrame(
      1,
      48,
      (frame) => eased(4, 44, 0, 60)(frame) + (frame === 26 ? slip : 0),
    ),
    "joint_2 rotation.z": everyFrame(1, 48, (frame) => eased(6, 46, 0, 30)(frame)),
  });
export const poses =
  (slip: number, last = 25) =>
  () =>
    pointDocument({
      "translation.x": onTwos(
        1,
        47,
        (frame) => Math.sin((frame - 1) / 12) + (frame >= 25 && frame <= last ? slip : 0),
      ),
    });
/** A joint that goes on far faster from the frame on on which the one that it carries is off. */
export const carried = (slip: number) => () =>
  chainDocument(2, {
    "joint_1 rotation.z": everyFrame(1, 48, (frame) => 2 * frame + 23 * Math.max(0, frame - 26)),
    "joint_2 rotation.y": everyFrame(1, 48, (frame) => (frame === 26 ? slip : 0)),
  });
/**
 * A tail that gives way for a frame, three frames after what carries it turned round at speed, or stood still; and that
 * swings on, or is as still as before.
 */
export const tail = (speed: number, swing: number) => () =>
  documentOf(
    [
      { id: "hips", translation: [0, 1, 0] },
      { id: "tail_1", parent: "hips", translation: [0, 0, -0.1] },
      { id: "tail_2", parent: "tail_1", translation: [0, 0, -0.2] },
      { id: "tail_3", parent: "tail_2", translation: [0, 0, -0.2] },
    ],
    {
      "hips translation.y": everyFrame(1, 48, (frame) => 1 + speed * Math.abs(frame - 24)),
      "tail_1 rotation.x": everyFrame(1, 48, (frame) => (frame === 27 ? 5 : frame === 29 ? -swing : 0)),
    },
  );
/** A joint that a step key shifts in passing while another of its curves is off for a frame. */
export const beside = (slip: number) => () =>
  chainDocument(1, {
    "joint_1 rotation.y": {
      interpolation: "step",
      keys: [
        [1, 0],
        [26, 1],
        [48, 1],
      ],
    },
    "joint_1 rotation.z": everyFrame(
      1,
      48,
      (frame) => eased(4, 44, 0, 60)(frame) + (frame === 26 ? slip : 0),
    ),
  });
/** A hand that is twisted for a frame. */
export const hand = (slip: number) => () =>
  chainDocument(3, { "joint_3 rotation.y": everyFrame(1, 48, (frame) => (frame === 26 ? slip : 0)) });
/** A part that is moved within six frames, by one key between two, as often as is said. */
export const nodding =
  (part: string, ...at: readonly number[]) =>
  () =>
    bipedDocument({
      [`${part} rotation.x`]: [
        [1, 0],
        ...at.flatMap((frame): [number, number][] => [
          [frame - 3, 0],
          [frame, 12],
          [frame + 3, 0],
        ]),
        [90, 0],
      ],
    });
/** A body that sways aside within six frames, by one key between two, as often as is said. */
export const swaying =
  (...at: readonly number[]) =>
  () =>
    bipedDocument({
      "hips translation.x": [
        [1, 0],
        ...at.flatMap((frame): [number, number][] => [
          [frame - 3, 0],
          [frame, 0.05],
          [frame + 3, 0],
        ]),
        [90, 0],
      ],
    });
/** A body that shakes from side to side, by a key every third frame, until it has gone so often. */
export const shaking = (times: number) => () =>
  bipedDocument({
    "hips translation.x": {
      interpolation: "smooth",
      keys: [
        [1, 0],
        [30, 0],
        ...Array.from({ length: times }, (_, i): [number, number] => [33 + 3 * i, 0.05 * (-1) ** i]),
        [33 + 3 * times, 0],
        [90, 0],
      ],
    },
  });
/** A head that is moved out and back by one key, and turns away half a second later. */
export const nodThenTurn = (off: number) => () =>
  bipedDocument({
    "head rotation.x": [
      [1, 0],
      [37, 0],
      [40, off],
      [43, 0],
      [52, 0],
      [60, 45],
      [90, 45],
    ],
  });
/**
 * An arm with a pose before and one behind, each keyed in all three curves, and a key at frame 40 between them: in one curve, or
 * in another one as well. The forearm may bend meanwhile.
 */
export const posedArm = (off: number, isPosed = false, bend = 0) => {
  const curve = (before: number, at: number, behind: number, isKeyed: boolean): [number, number][] => [
    [1, before],
    [37, before],
    ...(isKeyed ? [[40, at] as [number, number]] : []),
    [43, behind],
    [90, behind],
  ];
  return () =>
    bipedDocument({
      "upper_arm_l rotation.x": curve(4, 4 + off, 5, off !== 0),
      "upper_arm_l rotation.y": curve(-10, -10, -10, isPosed),
      "upper_arm_l rotation.z": curve(-60, -60, -61, isPosed),
      "forearm_l rotation.y": curve(20, 20 + bend, 20, bend !== 0),
    });
};
/** A lid that is down for two frames. */
export const blink = (interpolation: "step" | "linear") => () => {
  const keys = everyFrame(1, 48, (frame) => (frame === 20 || frame === 21 ? 70 : 0));
  return chainDocument(1, { "joint_1 rotation.x": { interpolation, keys } });
};
/** An arm that hangs still, twitches, and beats to and fro within five frames each later on. */
export const restThenBeats = (slip: number, at: number) => () =>
  chainDocument(2, {
    "joint_1 rotation.z": everyFrame(1, 96, (frame) => {
      const beat = frame < 18 ? 0 : 40 * Math.sin((Math.PI * (frame - 18)) / 5);
      return beat + (frame === at ? slip : 0);
    }),
  });
/** A body blocked in step keys, every half second; between two of the poses an upper arm shows another one for so many frames. */
export const blocked =
  (frames: number, part = "upper_arm_l") =>
  () => {
    const poses: [number, number][] = [
      [1, -70],
      [13, -30],
      [25, 20],
      [37, 25],
      [49, -60],
    ];
    const slip: [number, number][] =
      frames === 0
        ? []
        : [
            [31, -60],
            [31 + frames, 20],
          ];
    const keys = [...poses, ...slip].sort((a, b) => a[0] - b[0]);
    return bipedDocument({ [`${part} rotation.z`]: { interpolation: "step", keys } }, { range: [1, 60] });
  };
/** A head that is 10° off for so many frames as the body lands. */
export const nod = (frames: number) => ({
  "head rotation.x": everyFrame(1, 60, (frame) => {
    const since = frame - jump().landing;
    return since >= 0 && since < frames ? 10 : 0;
  }),
});
export const still: [number, number][] = [
  [1, 0],
  [23, 0],
  [25, 0],
  [48, 0],
];
