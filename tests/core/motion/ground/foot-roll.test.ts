import { describe, expect, test } from "vitest";
import { degreesPerRadian } from "../../../../packages/core/base/constants.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { eased } from "../../../../packages/core/faults/shared/examples/documents.ts";
import { footPlantsOf } from "../../../../packages/core/motion/ground/foot-plant.ts";
import { soleTiltAt, withRoll } from "../../../../packages/core/motion/ground/foot-roll.ts";
import { toeOffsOf } from "../../../../packages/core/motion/ground/toe-off.ts";
import { ankleHeight, motionDocument, rolled, standing } from "../../../support/bodies.ts";
import { studyOf } from "../../../support/shots.ts";

const floor = { id: "floor", normal: [0, 1, 0] as [number, number, number], height: 0 };

/** A stand of 48 frames over a declared floor, whose left foot does as it is told. */
function stand(left: Parameters<typeof motionDocument>[0]["left"], more: Partial<CurveDocument> = {}) {
  const motion = {
    first: 1,
    last: 48,
    hips: () => [0, 0.84, 0] as const,
    left,
    right: () => standing("right"),
  };
  return motionDocument(motion, { more: { surfaces: [floor], ...more } });
}

describe("the tilt of a sole", () => {
  test("is that of the foot where it is sunk so far that its ankle is under the floor", () => {
    const pitch = eased(20, 40, 0, 30);
    // Flat is told from samples in which the heel is a little up already.
    const down = ankleHeight + 0.01;
    for (const sunk of [0, down]) {
      const foot = (frame: number) => {
        const { at, ...turns } = rolled("left", 0, pitch(frame));
        return { ...turns, at: [at[0], at[1] - sunk, at[2]] as const };
      };
      const study = studyOf(stand(foot));
      const plant = footPlantsOf(study, 0).find(({ leg }) => leg.side === "left");
      if (plant === undefined) throw new Error("The left foot stands.");
      expect(soleTiltAt(study, plant, 10) * degreesPerRadian).toBeLessThan(3);
      expect(soleTiltAt(study, plant, 29) * degreesPerRadian - pitch(30)).toBeLessThan(3);
    }
  });
});

describe("a contact that is declared while a foot lies flat", () => {
  const contacts = [{ node: "foot_l", with: "floor", frames: [1, 20] as [number, number] }];
  const lifted = eased(34, 44, 0, 0.15);
  const rolling = stand(
    (frame) => {
      const foot = rolled("left", 0, eased(18, 34, 0, 40)(frame));
      return { ...foot, at: [foot.at[0], foot.at[1] + lifted(frame), foot.at[2]] };
    },
    { contacts },
  );

  test("ends with it, of a foot with a joint at its ball", () => {
    const study = studyOf(rolling);
    for (const plant of footPlantsOf(study, 0)) expect(withRoll(study, 0, plant)).toBe(plant);
  });

  test("is followed by its roll, of a foot that is known by its ankle alone, until its ball is off the floor", () => {
    const nodes = rolling.nodes.filter(({ id }) => !id.startsWith("toes_"));
    const curves = rolling.curves.filter(({ node }) => !node.startsWith("toes_"));
    const figures = rolling.figures?.map((figure) => ({
      ...figure,
      parts: Object.fromEntries(
        Object.entries(figure.parts ?? {}).filter(([part]) => !part.endsWith("Toes")),
      ),
    }));
    const study = studyOf({ ...rolling, nodes, curves, figures });
    const [plant] = footPlantsOf(study, 0).filter(({ leg }) => leg.side === "left");
    expect(plant.to).toBe(19);
    const { to } = withRoll(study, 0, plant);
    expect(to).toBeGreaterThan(31);
    expect(to).toBeLessThan(38);
    const [off] = toeOffsOf(study, 0).filter(({ stance }) => stance.leg.side === "left");
    expect(off.tilt * degreesPerRadian).toBeCloseTo(40, 0);
  });
});
