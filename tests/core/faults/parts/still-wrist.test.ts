import { expect, test } from "vitest";
import { bipedDocument, easedKeys, everyFrame, notesOfCheck } from "../../../support/shots.ts";

test("still-wrist judges the arm that a body's turn swings, not the one that it rolls", () => {
  // The left arm hangs, the right one is held out to the side: each turn swings one and rolls the other.
  const hanging = { "upper_arm_l rotation.z": everyFrame(1, 48, () => -90) };
  const nodesOf = (axis: "x" | "y") =>
    notesOfCheck(
      bipedDocument({ ...hanging, [`hips rotation.${axis}`]: easedKeys([1, 48], [10, 30], 60) }),
      "still-wrist",
    ).map(({ node }) => node);
  expect(nodesOf("y")).toEqual(["hand_r"]);
  expect(nodesOf("x")).toEqual(["hand_l"]);
});
