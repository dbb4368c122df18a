import { defineFix } from "../../fix.ts";
import { keysOut } from "../../shared/posing/keys-out.ts";
import { bridgesOver, keptAndPlain } from "../../shared/posing/over-causes.ts";
import { kinkedPath } from "./check.ts";

export const kinkedPathFix = defineFix(kinkedPath, {
  what: "Rounds a corner of a path over the frames around it.",
  title: ({ frames, node }) => `round the corner of ${node ?? "the path"} at frame ${frames[0]}`,
  // A quarter turn over three frames: 30° a frame, half of what is noted.
  margin: { turn: 0.5, spread: 0.5 },
  *propose(subject) {
    const { shot } = subject;
    for (const edits of keysOut(subject)) yield* keptAndPlain(subject, shot, edits);
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 2],
      [1, 2],
      [2, 1],
      [3, 3],
      [4, 4],
    ]);
  },
});
