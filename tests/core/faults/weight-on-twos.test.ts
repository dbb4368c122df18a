import { describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import { jump, jumpDocument, motionDocument, standing, walk } from "../../support/bodies.ts";
import { notesOfCheck } from "../../support/shots.ts";

const weight = [
  "early-stop",
  "lift-before-push",
  "beat-mismatch",
  "hang-time",
  "contact-slide",
  "off-ground",
  "through-ground",
  "flat-foot",
  "one-axis-roll",
  "leg-snap",
  "off-balance",
  "body-tied-to-steps",
];

/** A document that is keyed on every frame, held on twos by step keys. */
function onTwos(document: CurveDocument): CurveDocument {
  return {
    ...document,
    curves: document.curves.map((curve) => ({
      ...curve,
      interpolation: "step" as const,
      keys: curve.keys.filter(([frame]) => frame % 2 === 1),
    })),
  };
}

describe("motion on twos", () => {
  const clean: Record<string, CurveDocument> = {
    "a jump": onTwos(motionDocument(jump({ air: 14 }).motion)),
    "a jump forward": onTwos(motionDocument(jump({ air: 16, forward: 1 }).motion)),
    "a walk": onTwos(motionDocument(walk())),
    "a sway": onTwos(
      motionDocument({
        first: 1,
        last: 49,
        hips: (frame) => [0.05 * Math.sin(frame / 8), 0.88, 0.03 * Math.sin(frame / 7)],
        left: () => standing("left"),
        right: () => standing("right"),
      }),
    ),
  };
  test.each(Object.keys(clean))("%s gives no note of weight", (name) => {
    for (const check of weight) {
      expect(
        notesOfCheck(clean[name], check).map(({ message }) => message),
        check,
      ).toEqual([]);
    }
  });

  test("a jump that floats is found on twos as on ones", () => {
    const floats = motionDocument(jump({ air: 14, gravity: 4.5 }).motion);
    expect(notesOfCheck(jumpDocument({ air: 14, gravity: 4.5 }), "hang-time")).toHaveLength(1);
    expect(notesOfCheck(onTwos(floats), "hang-time")).toHaveLength(1);
  });
});
