import { inDegrees } from "../../../base/constants.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import {
  bipedDocument,
  documentOf,
  eased,
  everyFrame,
  type Keyed,
  pointDocument,
} from "../../shared/examples/motions.ts";
import { rotationFlip } from "./check.ts";

const forearm = (keys: Keyed) => () => bipedDocument({ "forearm_l rotation.y": keys });
const inRadians = (keys: Keyed) => () =>
  bipedDocument(
    { "forearm_l rotation.y": keys },
    { more: { space: { metresPerUnit: 1, angle: "radians" } } },
  );
const hips = (keys: Keyed) => () => bipedDocument({ "hips rotation.y": keys });
const fullTurn = (frames: number): Keyed => [
  [1, 0],
  [1 + frames, 360],
  [60, 360],
];

/** A cart of two nodes that goes three metres in 40 frames, or none, while its wheel of 30 cm turns as three metres ask. */
const cart = (way: number) => () =>
  documentOf(
    [{ id: "cart" }, { id: "wheel", parent: "cart", translation: [0.5, 0.3, 0] }],
    {
      "cart translation.z": [
        [1, 0],
        [41, way],
        [60, way],
      ],
      "wheel rotation.x": [
        [1, 0],
        [41, inDegrees(3 / 0.3)],
        [60, inDegrees(3 / 0.3)],
      ],
    },
    { more: { surfaces: [{ id: "floor", normal: [0, 1, 0], height: 0 }] } },
  );

/** A forearm that is keyed on every frame, and goes on by an angle within some frames from frame 20 on. */
const baked = (frames: number, angle: number) =>
  forearm(everyFrame(1, 60, (frame) => 8 + eased(20, 20 + frames, 0, angle)(frame)));

/**
 * A pose of a joint at frame 20, keyed in its own angles or in the others that give the same pose; and so the one behind it,
 * where these are given.
 */
const posed =
  (angles: Angles, joint = "forearm_l", behind: Angles = [14, 38, -9]) =>
  () =>
    bipedDocument({
      [`${joint} rotation.x`]: [
        [1, 4],
        [12, 10],
        [20, angles[0]],
        [36, behind[0]],
      ],
      [`${joint} rotation.y`]: [
        [1, 20],
        [12, 30],
        [20, angles[1]],
        [36, behind[1]],
      ],
      [`${joint} rotation.z`]: [
        [1, -3],
        [12, -6],
        [20, angles[2]],
        [36, behind[2]],
      ],
    });
type Angles = readonly [number, number, number];
/** The other angles of a pose: half a turn on the outer axes, one way or the other. */
const readBack = ([x, y, z]: Angles, way: 1 | -1): Angles => [x + way * 180, 180 - y, z - way * 180];

export const rotationFlipExamples = defineExamples(rotationFlip, {
  faulty: [
    {
      title: "a forearm that turns by 350° where 10° would do",
      motion: forearm([
        [1, -10],
        [12, -20],
        [20, 330],
        [36, 320],
      ]),
      right: forearm([
        [1, -10],
        [12, -20],
        [20, -30],
        [36, -40],
      ]),
      note: {
        node: "forearm_l",
        frames: [12, 20],
        key: { node: "forearm_l", channel: "rotation.y", frame: 20 },
        measured: 350,
      },
    },
    {
      title: "a forearm that flips from one frame to the next",
      motion: forearm([
        [1, 0],
        [12, 5],
        [13, 362],
        [30, 350],
      ]),
      right: forearm([
        [1, 0],
        [12, 5],
        [13, 2],
        [30, -10],
      ]),
      note: {
        node: "forearm_l",
        frames: [12, 13],
        key: { node: "forearm_l", channel: "rotation.y", frame: 13 },
        measured: 357,
      },
    },
    {
      title: "hips that spin once within six frames",
      motion: hips(fullTurn(6)),
      right: hips([
        [1, 0],
        [7, 0],
        [60, 0],
      ]),
      note: {
        node: "hips",
        frames: [1, 7],
        key: { node: "hips", channel: "rotation.y", frame: 7 },
        measured: 360,
      },
    },
    {
      title: "a forearm that turns once as a prop may",
      motion: forearm(fullTurn(24)),
      right: forearm([
        [1, 0],
        [25, 0],
        [60, 0],
      ]),
      note: {
        node: "forearm_l",
        frames: [1, 25],
        key: { node: "forearm_l", channel: "rotation.y", frame: 25 },
        measured: 360,
      },
    },
    {
      title: "a forearm that is keyed in radians",
      motion: inRadians([
        [1, 0],
        [12, 6.2],
        [24, 6.2],
      ]),
      right: inRadians([
        [1, 0],
        [12, 6.2 - 2 * Math.PI],
        [24, 6.2 - 2 * Math.PI],
      ]),
      note: {
        node: "forearm_l",
        frames: [1, 12],
        key: { node: "forearm_l", channel: "rotation.y", frame: 12 },
        measured: inDegrees(6.2),
      },
    },
    {
      title: "a pose that is keyed in the angles on the other side: half a turn on two axes, told once",
      motion: posed(readBack([12, 35, -8], 1)),
      right: posed([12, 35, -8]),
      note: {
        node: "forearm_l",
        frames: [12, 20],
        key: { node: "forearm_l", channel: "rotation.x", frame: 20 },
        measured: 182,
      },
    },
    {
      title: "a pose in the angles on the other side, none of which differ by half a turn",
      motion: posed(readBack([12, 35, -8], -1)),
      right: posed([12, 35, -8]),
      note: {
        node: "forearm_l",
        frames: [12, 20],
        key: { node: "forearm_l", channel: "rotation.x", frame: 20 },
        measured: 178,
      },
    },
    {
      title: "hips whose pose is read back in other angles, as slowly as they may spin",
      motion: posed(readBack([12, 35, -8], 1), "hips", readBack([14, 38, -9], 1)),
      right: posed([12, 35, -8], "hips"),
      note: {
        node: "hips",
        frames: [12, 20],
        key: { node: "hips", channel: "rotation.x", frame: 20 },
        measured: 182,
      },
      unfixed: "The body turns as a whole here, with its feet: they slide, and further once the spin is out.",
    },
    {
      title: "a forearm that is keyed frame by frame through a whole turn in eight frames",
      motion: baked(8, 360),
      right: baked(8, 0),
      // A minimum-jerk turn of eight frames has made 6° on its first and before its last frame, as fast as 139° a second.
      note: {
        node: "forearm_l",
        frames: [20, 28],
        key: { node: "forearm_l", channel: "rotation.y", frame: 28 },
        measured: 360,
      },
    },
  ],
  silent: [
    {
      title: "a forearm that swings by 170° in eight frames, keyed on each",
      motion: baked(8, 170),
    },
    {
      title: "an arm that goes round once within three quarters of a second, keyed on each frame",
      motion: baked(18, 360),
      unexcused: baked(8, 360),
    },
    {
      title: "a prop that takes its time to spin",
      motion: () => pointDocument({ "rotation.y": fullTurn(24) }),
    },
    {
      title: "a figure that takes its time to spin",
      motion: hips(fullTurn(24)),
      unexcused: hips(fullTurn(6)),
    },
    {
      title: "axes that turn against each other near lock, so that the joint keeps to its way",
      motion: () =>
        bipedDocument({
          "forearm_l rotation.x": [
            [1, 0],
            [12, 0],
            [20, 150],
            [36, 150],
          ],
          "forearm_l rotation.y": [
            [1, 90],
            [36, 90],
          ],
          "forearm_l rotation.z": [
            [1, 0],
            [12, 0],
            [20, 150],
            [36, 150],
          ],
        }),
    },
    {
      title: "stepped keys, between which nothing runs",
      motion: forearm({
        interpolation: "step",
        keys: [
          [1, 0],
          [12, 355],
          [24, 0],
        ],
      }),
      unexcused: forearm([
        [1, 0],
        [12, 355],
        [24, 0],
      ]),
    },
    { title: "a wheel that rolls", motion: cart(3), unexcused: cart(0) },
    {
      title: "large turns that are the shortest way",
      motion: forearm([
        [1, -85],
        [12, 85],
        [24, -85],
      ]),
    },
    {
      title: "large turns in radians",
      motion: inRadians([
        [1, 0],
        [12, 3],
        [24, 0],
      ]),
    },
  ],
  provocation: {
    shot: "jetty_0040_v1",
    node: "head",
    frames: [1084, 1088],
    slip: "in the first version the head's heading is keyed on the wrong side of the circle",
  },
  picture: { draws: "curve", node: "forearm_l", channel: "rotation.y" },
});
