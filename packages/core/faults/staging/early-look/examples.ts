import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { type Curves, easedKeys } from "../../shared/examples/motions.ts";
import { type Eye, fromTheFront, stagedDocument, withCamera } from "../shared/camera-motions.ts";
import { earlyLook } from "./check.ts";

interface Scene {
  readonly eye?: Eye | null;
  /** Frame of a sound that the bird makes; none if left out. */
  readonly sound?: number;
  readonly visible?: [number, number][];
  readonly more?: Curves;
}

/** A bird two metres off, before the figure and to its left; the head turns to it over twelve frames. */
function turning(from: number, { eye = fromTheFront, sound, visible, more = {} }: Scene = {}): CurveDocument {
  const document = stagedDocument(
    { "head rotation.y": easedKeys([1, 72], [from, from + 12], 45), ...more },
    eye,
    { more: { gazes: [{ figure: "walker", at: "bird", frames: [from + 12, 72] }] } },
  );
  document.nodes.push({
    id: "bird",
    translation: [1.4, 1.53, 1.4],
    ...(visible === undefined ? {} : { visible }),
  });
  if (sound !== undefined)
    document.sounds = [{ file: "sound/caw.wav", frame: sound, node: "bird", label: "caw" }];
  return document;
}

const key = { node: "head", channel: "rotation.y" } as const;

const [piece, eye] = withCamera([0, 110, 600], 0);
const gull = `"sounds": [\n    { "file": "sound/gull.wav", "frame": 126, "node": "gull" }\n  ],\n  "gazes": [\n    { "figure": "hips", "at": "gull", "frames": [126, 136] }\n  ],\n  `;
const gullNode = `    { "id": "gull", "translation": [93, 152, 285] },\n`;

export const earlyLookExamples = defineExamples(earlyLook, {
  faulty: [
    {
      title: "a head that turns to a bird six frames before its call",
      motion: () => turning(30, { sound: 36 }),
      right: () => turning(40, { sound: 36 }),
      note: { node: "head", frames: [33, 42], key, measured: 5.5 },
    },
    {
      title: "a head that turns to a bird before that is there",
      motion: () => turning(30, { visible: [[36, 72]] }),
      right: () => turning(40, { visible: [[36, 72]] }),
      note: { node: "head", frames: [33, 42], key, measured: 5.4 },
    },
    {
      title: "a head that turns to a bird before that flies up",
      motion: () => turning(30, { more: { "bird translation.y": easedKeys([1, 72], [36, 50], 0.6, 1.53) } }),
      right: () => turning(42, { more: { "bird translation.y": easedKeys([1, 72], [36, 50], 0.6, 1.53) } }),
      note: { node: "head", frames: [33, 40], key, measured: 6.4 },
    },
  ],
  silent: [
    {
      title: "a shot without a camera",
      motion: () => turning(30, { eye: null, sound: 36 }),
      unexcused: () => turning(30, { sound: 36 }),
    },
    {
      title: "a head that answers a fifth of a second after the call",
      motion: () => turning(38, { sound: 36 }),
    },
    { title: "a bird that is looked at for its own sake", motion: () => turning(30) },
    { title: "a look long before the call", motion: () => turning(4, { sound: 60 }) },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "head",
    frames: [108, 124],
    slip: "a gull calls beside the camera, after the dancer has begun to turn to it",
    replace: [piece, gull + eye + gullNode],
  },
  picture: { draws: "curve", node: "head", channel: "rotation.y", also: ["turn"] },
});
