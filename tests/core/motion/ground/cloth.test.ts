import { describe, expect, test } from "vitest";
import type { CurveDocument, NodeSpec } from "../../../../packages/core/document/schema.ts";
import { feetAreGuessed, footPointsOf } from "../../../../packages/core/motion/ground/feet.ts";
import { along, documentOf, notesOfCheck, studyOf, type Vector } from "../../../support/shots.ts";

/**
 * A puppet of 0.6 m without legs: head, two arms, and four chains round its waist whose ends reach the floor at rest.
 * It stands, goes up and down three times, and comes down with its ends 3 cm over, and under, where they were.
 */
function puppet(chain: string, more: Partial<CurveDocument> = {}): CurveDocument {
  const nodes: NodeSpec[] = [
    { id: "root", translation: [0, 0.2, 0] },
    { id: "chest", parent: "root", translation: [0, 0.15, 0] },
    { id: "neck", parent: "chest", translation: [0, 0.1, 0] },
    { id: "head", parent: "neck", translation: [0, 0.05, 0] },
    ...(["l", "r"] as const).flatMap((side): NodeSpec[] => [
      { id: `arm_${side}`, parent: "chest", translation: [side === "l" ? 0.05 : -0.05, 0.05, 0] },
      { id: `forearm_${side}`, parent: `arm_${side}`, translation: [0, -0.07, 0] },
      { id: `hand_${side}`, parent: `forearm_${side}`, translation: [0, -0.06, 0] },
    ]),
  ];
  const round: readonly Vector[] = [
    [0.05, 0, 0],
    [0, 0, 0.05],
    [-0.05, 0, 0],
    [0, 0, -0.05],
  ];
  round.forEach(([x, y, z], i) => {
    nodes.push(
      { id: `${chain}_${i}_a`, parent: "root", translation: [x, y, z] },
      { id: `${chain}_${i}_b`, parent: `${chain}_${i}_a`, translation: [0, -0.07, 0] },
      { id: `${chain}_${i}_c`, parent: `${chain}_${i}_b`, translation: [0, -0.07, 0] },
    );
  });
  const levels = [0, 0, 0.03, -0.03];
  const curves = along("root", 1, 96, (frame): Vector => {
    const at = frame % 24;
    const up = at < 10 ? 0.08 * Math.sin((Math.PI * at) / 10) ** 2 : 0;
    return [0, 0.2 + up + (at < 10 ? 0 : levels[Math.min(3, Math.floor(frame / 24))]), 0];
  });
  return documentOf(nodes, curves, {
    range: [1, 96],
    more: { space: { metresPerUnit: 1 }, surfaces: [{ id: "floor", height: 0.06 }], ...more },
  });
}

const checks = ["off-ground", "through-ground", "contact-slide"] as const;
const notes = (document: CurveDocument) => checks.flatMap((check) => notesOfCheck(document, check));

describe("what a body without legs wears", () => {
  test("is no foot where its name says what it is", () => {
    for (const name of ["skirt", "coat_tail", "dress"]) {
      const document = puppet(name);
      expect(footPointsOf(studyOf(document), 0)).toEqual([]);
      expect(notes(document)).toEqual([]);
    }
  });

  test("may be feet by what it does: that is a guess, and its notes are polish until something is declared", () => {
    const guessed = notes(puppet("panel"));
    expect(feetAreGuessed(studyOf(puppet("panel")), 0)).toBe(true);
    expect(guessed.length).toBeGreaterThan(0);
    expect(new Set(guessed.map(({ tier }) => tier))).toEqual(new Set(["polish"]));
    const limbs = [0, 1, 2, 3].map((i) => ({
      id: `leg ${i}`,
      kind: "leg" as const,
      nodes: ["a", "b", "c"].map((link) => `panel_${i}_${link}`),
    }));
    const declared = puppet("panel", { figures: [{ id: "root", limbs }] });
    expect(feetAreGuessed(studyOf(declared), 0)).toBe(false);
    expect(notes(declared).some(({ tier }) => tier !== "polish")).toBe(true);
  });
});
