import { expect, test } from "vitest";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { builtShot, scalarCurve, studyOf } from "./pose-shot.ts";

test("a child follows its parent's turn", () => {
  const shot = builtShot(
    [{ id: "a" }, { id: "b", parent: "a", offset: [1, 0, 0] }],
    [scalarCurve([0, 10], [0, 90], "linear", { node: "a", channel: "rotate.z" })],
  );
  const world = worldOf(studyOf(shot), 1);
  expect(world.position[30]).toBeCloseTo(0, 12);
  expect(world.position[31]).toBeCloseTo(1, 12);
});
