import { defineFix } from "../../fix.ts";
import { keysOut } from "../../shared/posing/keys-out.ts";
import { bridgesOver, keptAndPlain } from "../../shared/posing/over-causes.ts";
import { spacingJump } from "./check.ts";

export const spacingJumpFix = defineFix(spacingJump, {
  what: "Spreads a change of spacing over the frames around it.",
  title: ({ frames, node }) =>
    `spread the change of spacing of ${node ?? "the move"} around frame ${frames[0]}`,
  // About half of a doubling from frame to frame (1.5), where an ease doubles.
  margin: { ratio: 0.68, change: 0.5, spread: 0.5 },
  *propose(subject) {
    const { shot } = subject;
    for (const edits of keysOut(subject)) yield* keptAndPlain(subject, shot, edits);
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 1],
      [1, 2],
      [2, 2],
      [3, 2],
      [2, 3],
      [3, 3],
      [4, 4],
      [6, 6],
    ]);
  },
});
