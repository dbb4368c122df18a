import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { NodeSpec } from "../../../packages/core/document/schema.ts";
import type { Finding } from "../../../packages/core/faults/check.ts";
import { checkNamed } from "../../../packages/core/faults/registry.ts";
import { assembleNotes, inOrder } from "../../../packages/core/notes/assemble.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { plainnessOf, standingOf } from "../../../packages/core/notes/rank.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

const study = studyOf(bipedDocument({}));

interface Fault extends Partial<Omit<Finding, "node">> {
  readonly id: string;
  readonly says?: string;
}

/** Notes of the same size, length and distance from the threshold, but for what is said of them, in their order. */
function told(...faults: Fault[]): (string | null)[] {
  return assembleNotes(study, faults.map(draftOf)).map(({ node }) => node);
}

function draftOf({ id, says = "pop", ...own }: Fault, n = 0): Draft {
  return {
    check: checkNamed(says)!,
    subject: 0,
    finding: {
      node: rigOf(study).indexOf.get(id) as number,
      figure: 0,
      from: 5 + 10 * n,
      to: 7 + 10 * n,
      measured: { quantity: "way", value: 0.2, unit: "m" },
      expected: { max: 0.1, unit: "m", source: "this test" },
      excess: 2,
      size: 0.2,
      fault: null,
      ...own,
    },
    keys: [],
    tried: 0,
    message: "pops",
    suggestion: "mend it",
  };
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

  test("what a check of the body's act says counts three times: no crouch before a jump is told before a pop", () => {
    const [act, part] = [{ id: "thigh_l", says: "no-anticipation" }, { id: "thigh_r" }];
    expect(told(part, act)).toEqual(["thigh_l", "thigh_r"]);
    expect(told({ ...part, size: 0.7 }, act)).toEqual(["thigh_r", "thigh_l"]);
  });

  test("one of the whole figure counts as such, whichever part speaks for it", () => {
    expect(told({ id: "thigh_l" }, { id: "hand_l", isOfFigure: true })).toEqual(["hand_l", "thigh_l"]);
  });

  test("a foot that bears half of the body is told before a thigh that bears nothing", () => {
    expect(told({ id: "thigh_l" }, { id: "foot_l", carries: 0.5 })).toEqual(["foot_l", "thigh_l"]);
  });

  test("what has no mass in the tables is told by its length: long hair before a hand, an ear behind it", () => {
    const strand = (id: string, length: number): NodeSpec[] => [
      { id, parent: "head", translation: [0, 0, 0] },
      { id: `${id}_tip`, parent: id, translation: [0, -length, 0] as const },
    ];
    const { nodes, ...document } = bipedDocument({});
    const haired = studyOf({
      ...document,
      nodes: [...nodes, ...strand("plait", 0.6), ...strand("ear", 0.08)],
    });
    const { indexOf } = rigOf(haired);
    const drafts = ["ear", "hand_l", "plait"].map((id, n) => {
      const draft = draftOf({ id: "head" }, n);
      return { ...draft, finding: { ...draft.finding, node: indexOf.get(id) as number } };
    });
    expect(assembleNotes(haired, drafts).map(({ node }) => node)).toEqual(["plait", "hand_l", "ear"]);
  });

  test("what a fix has to move farther, or over more frames, is told first; tiers stay", () => {
    const notes = (own: Partial<Finding>) => told({ id: "thigh_l" }, { id: "foot_l", ...own });
    expect(notes({})).toEqual(["thigh_l", "foot_l"]);
    expect(notes({ amiss: 0.8 })).toEqual(["foot_l", "thigh_l"]);
    expect(notes({ amissOver: 48 })).toEqual(["foot_l", "thigh_l"]);
    const drafts = [0.2, 0.0001].map((amiss) => draftOf({ id: "hand_l", amiss }));
    expect(assembleNotes(study, [drafts[0]])[0].tier).toBe(assembleNotes(study, [drafts[1]])[0].tier);
  });

  test("what no key puts right is told behind what moves", () => {
    expect(told({ id: "hips", says: "blending-colours" }, { id: "hand_l", size: 0.01 })).toEqual([
      "hand_l",
      "hips",
    ]);
  });
});

test("what is told together is as plain as the plainest of it, but for polish", () => {
  const key = { node: "hand_l", channel: "rotation.x" as const, index: 3, frame: 6, share: 0.9 };
  const first = (own: Partial<Finding>) => {
    const stop = { ...draftOf({ id: "hand_l", says: "hard-stop" }), keys: [key], tried: 0.9 };
    const kink = { ...draftOf({ id: "hand_l", says: "kinked-path", ...own }), keys: [key], tried: 0.9 };
    return assembleNotes(study, [stop, kink])[0];
  };
  const [small, wide] = [0.1, 3].map((amiss) => first({ ceiling: "minor", size: 0.1, amiss }));
  expect([small, wide].map(({ check }) => check)).toEqual(["hard-stop", "hard-stop"]);
  expect(wide.rank?.metres).toBe(3);
  expect(small.rank?.metres).toBe(0.2);
  expect(first({ ceiling: "polish", size: 0.1, amiss: 3 }).rank?.metres).toBe(0.2);
});

describe("a minor fault", () => {
  const minor = { id: "hand_l", ceiling: "minor" } as const;

  test("is told before a major one where it is more than twice as plain, and else behind it", () => {
    expect(told({ id: "hand_r" }, { ...minor, size: 0.41 })).toEqual(["hand_l", "hand_r"]);
    expect(told({ id: "hand_r" }, { ...minor, size: 0.39 })).toEqual(["hand_r", "hand_l"]);
  });

  test("is told before polish, and behind what is broken, however plain it is", () => {
    expect(told({ id: "hips", size: 3, ceiling: "polish" }, { ...minor, size: 0.02 })).toEqual([
      "hand_l",
      "hips",
    ]);
    const [hand, paper] = [
      { ...assembleNotes(study, [draftOf({ id: "hand_l", size: 9 })])[0] },
      { ...assembleNotes(study, [draftOf({ id: "hand_l" })])[0], tier: "broken" as const, rank: undefined },
    ];
    expect([hand, paper].sort(inOrder)).toEqual([paper, hand]);
  });

  test("a major one of which no size is known stands as what is plainly seen for a second", () => {
    expect(standingOf("major", 0)).toBeCloseTo(0.07, 12);
    expect(standingOf("minor", 0)).toBe(0);
    expect(standingOf("polish", 0.3)).toBe(0.3);
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
