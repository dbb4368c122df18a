import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { beatMismatchExamples } from "../../../../packages/core/faults/weight/beat-mismatch/examples.ts";
import { earlyStopExamples } from "../../../../packages/core/faults/weight/early-stop/examples.ts";
import { liftBeforePushExamples } from "../../../../packages/core/faults/weight/lift-before-push/examples.ts";
import { offBalanceExamples } from "../../../../packages/core/faults/weight/off-balance/examples.ts";
import { surfacesOf } from "../../../../packages/core/motion/ground/contact.ts";
import { buoyedAt } from "../../../../packages/core/motion/ground/medium.ts";
import { ankleHeight, g, jumpDocument, motionDocument, standing } from "../../../support/bodies.ts";
import { eased, notesOfCheck, studyOf } from "../../../support/shots.ts";

/** What is around a body: water carries it, so that it neither falls nor has to keep its balance. */

type Around = NonNullable<CurveDocument["surroundings"]>;

const stands = (more: Partial<CurveDocument> = {}, hips = (_frame: number) => 0.9) =>
  motionDocument(
    {
      first: 1,
      last: 48,
      hips: (frame) => [0, hips(frame), 0],
      left: () => standing("left"),
      right: () => standing("right"),
    },
    { more },
  );
const pool = (height: number) => ({
  surfaces: [
    { id: "floor", height: 0 },
    { id: "pool", height },
  ],
});
const buoyed = (document: CurveDocument) => [...buoyedAt(studyOf(document), 0)];
const everywhere = (surroundings: Around) => buoyed(stands({ surroundings }));

describe("what is around a body", () => {
  test("carries it where it is as dense as water, and is air where nothing is said", () => {
    expect(buoyed(stands())).not.toContain(1);
    expect(everywhere([{ medium: "water" }])).not.toContain(0);
    expect(everywhere([{ medium: "air" }])).not.toContain(1);
    expect(everywhere([{ medium: "vacuum" }])).not.toContain(1);
    expect(everywhere([{ density: 1030 }])).not.toContain(0);
    expect(everywhere([{ medium: "water", density: 100 }])).not.toContain(1);
  });

  test("of several the last one counts, for its own frames", () => {
    const found = everywhere([{ medium: "water" }, { medium: "air", frames: [10, 20] }]);
    expect(found).toEqual(found.map((_, i) => (i + 1 >= 10 && i + 1 <= 20 ? 0 : 1)));
  });

  test("is bounded by a level, under which the hips have to be, and on which nobody stands", () => {
    const surroundings: Around = [{ medium: "water", below: "pool" }];
    expect(buoyed(stands({ ...pool(0.5), surroundings }))).not.toContain(1);
    expect(buoyed(stands({ ...pool(1.2), surroundings }))).not.toContain(0);
    const document = stands({ ...pool(0.5), surroundings });
    expect(surfacesOf(studyOf(document)).map(({ id }) => id)).toEqual(["floor"]);
    expect(notesOfCheck(document, "through-ground")).toEqual([]);
  });
});

describe("in water", () => {
  test.each([offBalanceExamples, earlyStopExamples, liftBeforePushExamples, beatMismatchExamples])(
    "nothing of what the examples of a check of weight show is a fault ($check)",
    ({ check, faulty }) => {
      for (const { motion } of faulty) {
        expect(notesOfCheck(motion(), check)).not.toEqual([]);
        const inWater: CurveDocument = { ...motion(), surroundings: [{ medium: "water" }] };
        expect(notesOfCheck(inWater, check)).toEqual([]);
      }
    },
  );

  const water = { more: { surroundings: [{ medium: "water" as const }] } };

  test("a body may float through a jump, in air it may not", () => {
    expect(notesOfCheck(jumpDocument({ gravity: g / 2 }), "hang-time")).toHaveLength(1);
    expect(notesOfCheck(jumpDocument({ gravity: g / 2, ...water }), "hang-time")).toEqual([]);
  });

  test("a body needs nothing under its mass", () => {
    const onOneFoot = (options: object) =>
      motionDocument(
        {
          first: 1,
          last: 60,
          hips: () => [0, 0.86, 0],
          left: () => standing("left", 0, 0.3),
          right: (frame) => ({ at: [-0.15, ankleHeight + eased(2, 10, 0, 0.3)(frame), 0] }),
        },
        options,
      );
    expect(notesOfCheck(onOneFoot({}), "off-balance")).toHaveLength(1);
    expect(notesOfCheck(onOneFoot(water), "off-balance")).toEqual([]);
  });
});
