import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { easedKeys } from "../../shared/examples/motions.ts";
import { type Eye, fromTheFront, stagedDocument, withCamera, withColours } from "../shared/camera-motions.ts";
import { flashing } from "./check.ts";

/** Stretches of so many frames with as many between them, from frame 12 on to frame 48. */
function blinks(each: number): [number, number][] {
  const lit: [number, number][] = [[1, 11]];
  for (let at = 12 + each; at <= 48; at += 2 * each) lit.push([at, at + each - 1]);
  lit.push([49, 60]);
  return lit;
}

interface Wall {
  readonly eye?: Eye | null;
  readonly size?: number;
  readonly colour?: string;
}

/** A lit wall behind a figure, before the dark. */
function lit(
  visible: [number, number][],
  { eye = fromTheFront, size = 4, colour = "#f0e8d0" }: Wall = {},
): CurveDocument {
  const document = stagedDocument({ "upper_arm_l rotation.z": easedKeys([1, 60], [10, 24], 40, -40) }, eye);
  document.cameras = (document.cameras ?? []).map((camera) => ({ ...camera, background: "#101418" }));
  document.nodes.push({
    id: "window",
    colour,
    visible,
    translation: [0, 1, -1.5],
    shapes: [{ kind: "box", size: [1.5 * size, size, 0.1] }],
  });
  return document;
}

const unfixed = "visibility and colours are no keys of the motion";

export const flashingExamples = defineExamples(flashing, {
  faulty: [
    {
      title: "a window that is lit every other two frames",
      motion: () => lit(blinks(2)),
      right: () => lit([[1, 60]]),
      note: { node: "window", frames: [12, 49], measured: 6.5 },
      unfixed,
    },
    {
      title: "a red light that comes and goes, though it is no brighter than what is behind it",
      motion: () => lit(blinks(2), { colour: "#c80000" }),
      note: { node: "window", frames: [12, 49], measured: 6.5 },
      unfixed,
    },
  ],
  silent: [
    {
      title: "a shot without a camera",
      motion: () => lit(blinks(2), { eye: null }),
      unexcused: () => lit(blinks(2)),
    },
    { title: "a light that blinks three times a second", motion: () => lit(blinks(4)) },
    { title: "a small light", motion: () => lit(blinks(2), { size: 0.4 }), unexcused: () => lit(blinks(2)) },
    {
      title: "a wall that is hardly lighter than the dark",
      motion: () => lit(blinks(2), { colour: "#303438" }),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "lamp",
    frames: [20, 30],
    slip: "a wall of light behind the dancer goes on and off every other two frames",
    replace: withColours(withCamera([0, 110, 600], 0), {
      first: "hips",
      own: "#804030",
      behind: "#101418",
      more: `    { "id": "lamp", "translation": [0, 120, -200], "colour": "#f0e8d0", "visible": [[1, 20], ${[...Array(12)].map((_, n) => `[${23 + 4 * n}, ${24 + 4 * n}]`).join(", ")}], "shapes": [{ "kind": "box", "size": [600, 400, 10] }] },\n`,
    }),
  },
  picture: { draws: "figure", seen: "front", at: [12, 16, 20, 48], marks: ["window"] },
});
