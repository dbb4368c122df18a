import { defineFix } from "../../fix.ts";
import { bridgesOver } from "../../shared/posing/over-causes.ts";
import { overSpeed } from "./check.ts";

export const overSpeedFix = defineFix(overSpeed, {
  what: "Spreads a move that is too fast over the frames around it.",
  title: ({ frames, node }) =>
    `spread the move of ${node ?? "the part"} over the frames around ${frames[0]} to ${frames[1]}`,
  // A quarter under what the quickest were measured at: a quick move, and no record (our choice).
  margin: { quickHead: 0.75, quickTrunk: 0.75, quickHand: 0.75 },
  *propose(subject) {
    const { shot } = subject;
    yield* bridgesOver(subject, shot, [
      [1, 1],
      [2, 2],
      [3, 3],
      [5, 5],
      [8, 8],
    ]);
  },
});
