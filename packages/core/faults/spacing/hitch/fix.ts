import { defineFix } from "../../fix.ts";
import { keysOut } from "../../shared/posing/keys-out.ts";
import { bridgesOver, keptAndPlain } from "../../shared/posing/over-causes.ts";
import { hitch } from "./check.ts";

export const hitchFix = defineFix(hitch, {
  what: "Carries the move over the frames in which it stands, at the pace that it has before and after.",
  title: ({ frames, node }) => `carry ${node ?? "the move"} over frame ${frames[0]} at an even pace`,
  // Eases halve their spacing (common practice): half of what is around it is no stop any more.
  margin: { share: 2, spread: 0.5 },
  *propose(subject) {
    const { shot } = subject;
    for (const edits of keysOut(subject)) yield* keptAndPlain(subject, shot, edits);
    yield* bridgesOver(subject, shot, reaches, [0, 0.6]);
  },
});

/** A late breakdown is made up for behind it, an early one before it. */
const reaches = [
  [1, 1],
  [1, 2],
  [2, 2],
  [1, 3],
  [2, 3],
  [3, 2],
  [1, 4],
  [2, 4],
  [3, 3],
  [4, 2],
  [2, 5],
  [4, 4],
  [6, 6],
] as const;
