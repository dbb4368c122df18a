import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { groundOf } from "../../../../packages/core/motion/ground/contact.ts";
import { standingLevelOf } from "../../../../packages/core/motion/ground/standing.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { ankleHeight, halfStance, motionDocument, standing } from "../../../support/bodies.ts";
import { notesOfCheck, studyOf } from "../../../support/shots.ts";

/** A stand of 60 frames on a rig that does not stand at rest; from a frame on feet are lower by 6 cm. */
function sunk(from: number, feet: readonly ("left" | "right")[], surfaces: CurveDocument["surfaces"] = []) {
  const footOf = (side: "left" | "right") => (frame: number) => {
    const down = frame >= from && feet.includes(side) ? 0.06 : 0;
    const x = side === "left" ? halfStance : -halfStance;
    return { at: [x, ankleHeight - down, standing(side).at[2]] as const };
  };
  const document = motionDocument({
    first: 1,
    last: 60,
    hips: (frame) => [0.01 * Math.sin(frame / 8), 0.84, 0],
    left: footOf("left"),
    right: footOf("right"),
  });
  const nodes = document.nodes.map((node) =>
    node.id === "hips" ? { ...node, translation: [0, 2, 0] as [number, number, number] } : node,
  );
  return { ...document, nodes, surfaces };
}
const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 };

describe("one foot under the floor", () => {
  test("sets neither the ground nor the sole of the other one", () => {
    const whole = studyOf(sunk(61, []));
    const study = studyOf(sunk(42, ["left"]));
    expect(groundOf(study).height).toBeCloseTo(groundOf(whole).height, 3);
    const onFloor = studyOf(sunk(42, ["left"], [floor]));
    const ankle = rigOf(onFloor).ids.indexOf("foot_r");
    expect(standingLevelOf(onFloor, 0, ankle)).toBeCloseTo(ankleHeight, 3);
  });

  test("is told, and nothing else is", () => {
    for (const surfaces of [[], [floor]]) {
      const document = sunk(42, ["left"], surfaces);
      expect(notesOfCheck(document, "through-ground").map(({ node }) => node)).toEqual(["foot_l"]);
      for (const check of ["off-ground", "off-balance"] as const)
        expect(notesOfCheck(document, check)).toEqual([]);
    }
  });

  test("does not make a rest pose true that stands where it happens to be", () => {
    const restHips = 0.95;
    // At rest the soles are 6.5 cm under the floor, and the sunk foot stands within a centimetre of that.
    const document = sunk(42, ["left"]);
    const nodes = document.nodes.map((node) =>
      node.id === "hips"
        ? { ...node, translation: [0, restHips - 0.065, 0] as [number, number, number] }
        : node,
    );
    const whole = studyOf(sunk(61, []));
    expect(groundOf(studyOf({ ...document, nodes })).height).toBeCloseTo(groundOf(whole).height, 3);
    expect(notesOfCheck({ ...document, nodes }, "off-ground")).toEqual([]);
    expect(notesOfCheck({ ...document, nodes }, "through-ground").map(({ node }) => node)).toEqual([
      "foot_l",
    ]);
  });

  test("both feet that go down tell where the ground is", () => {
    const whole = studyOf(sunk(61, []));
    const study = studyOf(sunk(42, ["left", "right"]));
    expect(groundOf(study).height).toBeCloseTo(groundOf(whole).height - 0.06, 3);
  });
});
