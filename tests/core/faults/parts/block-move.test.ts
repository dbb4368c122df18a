import { expect, test } from "vitest";
import {
  bipedFigure,
  bipedNodes,
  documentOf,
  eased,
  everyFrame,
} from "../../../../packages/core/faults/shared/examples/motions.ts";
import { notesOfCheck } from "../../../support/shots.ts";

/** The biped that turns by 60° as one piece, and a crate on its chest that hands hold in some frames. */
const turning = (hands: readonly string[], frames: readonly [number, number]) =>
  documentOf(
    [...bipedNodes, { id: "crate", parent: "chest", translation: [0, 0, 0.3] }],
    { "hips rotation.y": everyFrame(1, 48, eased(10, 30, 0, 60)) },
    {
      more: {
        figures: [bipedFigure],
        props: [
          { node: "crate", mass: 12, heldBy: hands.map((node) => ({ node, frames: [...frames] as const })) },
        ],
      },
    } as never,
  );
const tiers = (...args: Parameters<typeof turning>) =>
  notesOfCheck(turning(...args), "block-move").map(({ tier }) => tier);

// It is marked in frames 13 to 27.
test("a turn as one piece weighs less while both hands carry one thing", () => {
  expect(tiers(["hand_l", "hand_r"], [1, 48])).toEqual(["minor"]);
  expect(tiers(["hand_l", "hand_r"], [1, 22])).toEqual(["minor"]);
  expect(tiers(["hand_l", "hand_r"], [1, 18])).toEqual(["major"]);
});
