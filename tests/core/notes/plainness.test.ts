import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkNamed } from "../../../packages/core/faults/registry.ts";
import { assembleNotes } from "../../../packages/core/notes/assemble.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { plainnessOf } from "../../../packages/core/notes/rank.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

const study = studyOf(bipedDocument({}));

/** Notes of the same size, length and distance from the threshold, in the order in which they are told. */
function told(...faults: { id: string; isOfFigure?: boolean }[]): (string | null)[] {
  const drafts = faults.map(({ id, isOfFigure = false }, n): Draft => {
    const check = checkNamed("pop")!;
    return {
      check,
      subject: 0,
      finding: {
        node: rigOf(study).indexOf.get(id) as number,
        figure: 0,
        isOfFigure,
        from: 5 + 10 * n,
        to: 7 + 10 * n,
        measured: { quantity: "way", value: 0.2, unit: "m" },
        expected: { max: 0.1, unit: "m", source: "this test" },
        excess: 2,
        size: 0.2,
        fault: null,
      },
      keys: [],
      tried: 0,
      message: "pops",
      suggestion: "mend it",
    };
  });
  return assembleNotes(study, drafts).map(({ node }) => node);
}

describe("of faults that are equally large", () => {
  test("what carries more of the figure is told first: the hips, then a thigh, a foot, a hand", () => {
    expect(told({ id: "hand_l" }, { id: "foot_l" }, { id: "thigh_l" }, { id: "hips" })).toEqual([
      "hips",
      "thigh_l",
      "foot_l",
      "hand_l",
    ]);
  });

  test("one of the whole figure counts as such, whichever part speaks for it", () => {
    expect(told({ id: "thigh_l" }, { id: "hand_l", isOfFigure: true })).toEqual(["hand_l", "thigh_l"]);
  });
});

test("plainness grows with size, time, distance and what goes along, and twice the length is twice as plain", () => {
  const positive = fc.double({ min: 0.01, max: 10, noNaN: true });
  fc.assert(
    fc.property(
      positive,
      positive,
      positive,
      fc.double({ min: 0.01, max: 0.1, noNaN: true }),
      (size, seconds, past, carried) => {
        const seen = { size, seconds, excess: 1 + past };
        const plain = plainnessOf(seen, carried);
        expect(plainnessOf({ ...seen, size: 2 * size }, carried)).toBeCloseTo(2 * plain, 9);
        expect(plainnessOf({ ...seen, seconds: 4 * seconds }, carried)).toBeCloseTo(2 * plain, 9);
        expect(plainnessOf({ ...seen, excess: 2 + past }, carried)).toBeGreaterThan(plain);
        // A body of eight times the mass is twice as long, broad and deep.
        expect(plainnessOf(seen, 8 * carried)).toBeCloseTo(2 * plain, 9);
      },
    ),
  );
});
