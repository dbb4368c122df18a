import type { CurveDocument } from "../../../document/schema.ts";
import { defineExamples } from "../../shared/examples/example.ts";
import { easedKeys } from "../../shared/examples/motions.ts";
import { type Eye, fromTheFront, stagedDocument, withCamera, withColours } from "../shared/camera-motions.ts";
import { blendingColours } from "./check.ts";

/** A figure in a colour before another one. */
function painted(own: string | null, behind: string | null, eye: Eye | null = fromTheFront): CurveDocument {
  const document = stagedDocument({ "upper_arm_l rotation.z": easedKeys([1, 60], [10, 24], 40, -40) }, eye);
  document.nodes = document.nodes.map((node) =>
    node.id === "hips" && own !== null ? { ...node, colour: own } : node,
  );
  if (behind !== null)
    document.cameras = (document.cameras ?? []).map((camera) => ({ ...camera, background: behind }));
  return document;
}

/** The figure goes behind a wall of its own colour and comes out again, or stays. */
function passing(until: number): CurveDocument {
  const document = painted("#805040", "#d0d8e0");
  document.nodes.push({
    id: "wall",
    colour: "#815141",
    visible: [[20, until]],
    translation: [0, 1, -1],
    shapes: [{ kind: "box", size: [6, 4, 0.1] }],
  });
  return document;
}

const unfixed = "colours are no keys of the motion";

export const blendingColoursExamples = defineExamples(blendingColours, {
  faulty: [
    {
      title: "a figure in the grey of what is behind it",
      motion: () => painted("#808080", "#848484"),
      right: () => painted("#404040", "#848484"),
      note: { node: "hips", frames: [1, 60], measured: 1.5 },
      unfixed,
    },
    {
      title: "a figure before a wall of its own brown",
      motion: () => passing(60),
      note: { node: "hips", frames: [21, 60], measured: 0.353 },
      unfixed,
    },
  ],
  silent: [
    {
      title: "a shot without a camera",
      motion: () => painted("#808080", null, null),
      unexcused: () => painted("#808080", "#848484"),
    },
    { title: "a figure of no known colour", motion: () => painted(null, "#848484") },
    { title: "a camera that tells no background", motion: () => painted("#808080", null) },
    { title: "a red figure before green of the same lightness", motion: () => painted("#c04040", "#407a40") },
    {
      title: "a figure that passes before its own colour",
      motion: () => passing(28),
      unexcused: () => passing(60),
    },
  ],
  provocation: {
    shot: "quay_0070_v2",
    node: "hips",
    frames: [1, 1],
    slip: "the dancer wears the grey of the sky",
    replace: withColours(withCamera([0, 110, 600], 0), { first: "hips", own: "#98a2ac", behind: "#9aa4ad" }),
  },
  picture: { draws: "figure", seen: "front", at: [10, 40] },
});
