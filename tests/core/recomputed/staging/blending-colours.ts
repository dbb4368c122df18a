import type { Note } from "@keyside/core";
import { ciede2000, labOf } from "../../../support/ciede2000.ts";
import type { Recompute } from "../shared/compare.ts";
import type { Sampled } from "../shared/sampled.ts";

type Colour = string | readonly (readonly [number, string])[];

/** A colour at a frame: the last key that does not stand behind it, else the first. */
function at(colour: Colour, frame: number): string {
  if (typeof colour === "string") return colour;
  return (colour.findLast(([key]) => key <= frame) ?? colour[0]!)[1];
}

/** The colour of a node at a frame: its own, or that of the nearest above it. */
function colourOf(shot: Sampled, node: number, frame: number): string {
  for (let one = node; one >= 0; one = shot.rig.parent[one]!) {
    const own = shot.shot.header.nodes.find(({ id }) => id === shot.rig.ids[one])?.colour;
    if (own !== undefined) return at(own, frame);
  }
  throw new Error("no colour");
}

/** ΔE₀₀ of the colour of the note's node and that of what the note names, or of the background, half way through. */
export const recompute: Recompute = (note: Note, shot) => {
  const frame = Math.round((note.frames[0] + note.frames[1]) / 2);
  const own = colourOf(shot, shot.nodeOf(note), frame);
  const other = /cannot be told from (.+?) at frame/.exec(note.message)?.[1] ?? "";
  const behind = shot.shot.header.cameras?.[0]?.background;
  const beside =
    other === "the background" && behind !== undefined
      ? at(behind, frame)
      : colourOf(shot, shot.rig.ids.indexOf(other), frame);
  return ciede2000(labOf(own), labOf(beside));
};
