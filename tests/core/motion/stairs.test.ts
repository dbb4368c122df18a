import { describe, expect, test } from "vitest";
import { contactsOf } from "../../../packages/core/motion/ground/contact.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { along, documentOf, eased, studyOf, type Vector } from "../../support/shots.ts";

const feet = ["l", "r"].flatMap((side) => [
  {
    id: `foot_${side}`,
    parent: "place",
    translation: [side === "l" ? 0.1 : -0.1, 0.09, 0] as [number, number, number],
  },
  { id: `toes_${side}`, parent: `foot_${side}`, translation: [0, -0.07, 0.14] as [number, number, number] },
]);
const nodes = [
  { id: "place" },
  { id: "hips", parent: "place", translation: [0, 0.95, 0] as [number, number, number] },
  ...feet,
];
const parts = {
  root: "place",
  leftFoot: "foot_l",
  leftToes: "toes_l",
  rightFoot: "foot_r",
  rightToes: "toes_r",
};

describe("contacts on stairs", () => {
  test("a foot stands on the step that it is nearest to, though planes have no edges", () => {
    // The left foot stands on the upper step, then steps down by 14 cm; the right one stays on the floor.
    const path = (f: number): Vector => [0.1, 0.09 + eased(20, 30, 0.14, 0)(f), eased(20, 30, 0, 0.4)(f)];
    const document = documentOf(nodes, along("foot_l", 1, 48, path), {
      more: {
        figures: [{ id: "walker", stature: 1.7, parts }],
        surfaces: [
          { id: "floor", normal: [0, 1, 0], height: 0 },
          { id: "step", normal: [0, 1, 0], height: 0.14 },
        ],
      },
    });
    const study = studyOf(document);
    const left = rigOf(study).indexOf.get("toes_l");
    const stands = contactsOf(study, 0)
      .filter(({ node }) => node === left)
      .map(({ surface, from, to }) => ({ on: surface.id, from, to }));
    expect(stands.map(({ on }) => on)).toEqual(["step", "floor"]);
    expect(stands[0].to).toBeLessThan(25);
    expect(stands[1].from).toBeGreaterThan(22);
  });
});
