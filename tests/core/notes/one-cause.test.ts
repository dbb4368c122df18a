import { describe, expect, test } from "vitest";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import type { NoteKey } from "../../../packages/core/faults/note.ts";
import { checkNamed } from "../../../packages/core/faults/registry.ts";
import { assembleNotes } from "../../../packages/core/notes/assemble.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../support/shots.ts";

/** What has one cause by its kind and place is told together; what has two is not. */

const study = studyOf(bipedDocument({}, { range: [0, 100] }));
const indexOf = (id: string) => rigOf(study).indexOf.get(id) as number;

interface Drawn extends Partial<Omit<Finding, "node">> {
  readonly on: string;
  readonly key?: Partial<NoteKey> & { readonly node: string };
}

/** A finding over some frames, with a key of the node itself unless another one is named. */
function draft(check: string, from: number, to: number, { on, key, ...own }: Drawn): Draft {
  const first = { node: on, channel: "rotation.x" as const, index: from, frame: from, share: 0.9, ...key };
  return {
    check: checkNamed(check) as Check,
    subject: 0,
    finding: {
      node: indexOf(on),
      figure: 0,
      from,
      to,
      measured: { quantity: "way", value: 0.05, unit: "m" },
      expected: { max: 0.01, unit: "m", source: "this test" },
      excess: 5,
      size: 0.05,
      fault: null,
      ...own,
    },
    keys: [first],
    tried: 0.9,
    message: `${check} speaks`,
    suggestion: "mend it",
  };
}

/** How many notes are made of some findings. */
const notesOf = (...drafts: readonly Draft[]) => assembleNotes(study, drafts).length;

describe("of one check", () => {
  test("joints of a limb that tremble in the same frames are one, at other times two, and two limbs are two", () => {
    const shin = draft("jitter", 20, 60, { on: "shin_l" });
    expect(notesOf(shin, draft("jitter", 30, 50, { on: "thigh_l" }))).toBe(1);
    expect(notesOf(shin, draft("jitter", 58, 90, { on: "thigh_l" }))).toBe(2);
    expect(notesOf(shin, draft("jitter", 30, 50, { on: "hand_l" }))).toBe(2);
  });

  test("a lean, and what pushes the body into it, are one; two leans are two", () => {
    const lean = draft("off-balance", 20, 60, { on: "hips" });
    const push = { on: "hips", key: { node: "hips", index: 1 } };
    expect(notesOf(lean, draft("off-balance", 18, 22, push))).toBe(1);
    expect(
      notesOf(
        lean,
        draft("off-balance", 70, 90, { ...push, measured: { quantity: "way", value: 1, unit: "m" } }),
      ),
    ).toBe(2);
  });

  test("two pops of one hand are two, however near", () => {
    const pop = draft("pop", 20, 21, { on: "hand_l" });
    expect(notesOf(pop, draft("pop", 23, 24, { on: "hand_l" }))).toBe(2);
  });

  test("left and right that are two frames apart, as is good practice, are one", () => {
    const left = draft("quick-top", 20, 24, { on: "hand_l" });
    expect(notesOf(left, draft("quick-top", 22, 26, { on: "hand_r" }))).toBe(1);
    expect(notesOf(left, draft("quick-top", 32, 36, { on: "hand_r" }))).toBe(2);
  });

  test("what one key holds all along is one, and of two keys two", () => {
    const held = { on: "hand_l", key: { node: "hand_l", index: 0 } };
    const first = draft("still-wrist", 10, 20, held);
    expect(notesOf(first, draft("still-wrist", 60, 80, held))).toBe(1);
    expect(notesOf(first, draft("still-wrist", 60, 80, { on: "hand_l" }))).toBe(2);
  });

  test("what lacks an answer to one carrier, as the panels of a skirt, is one", () => {
    const asked = (by: string) => ({
      by: indexOf(by),
      from: 10,
      weights: new Float64Array(40).fill(1),
      late: 6,
    });
    const panel = (on: string, by: string) => draft("no-drag", 10, 50, { on, asked: asked(by) });
    expect(notesOf(panel("thigh_l", "hips"), panel("hand_r", "hips"))).toBe(1);
    expect(notesOf(panel("thigh_l", "hips"), panel("hand_r", "chest"))).toBe(2);
  });
});

describe("of two checks", () => {
  test("a stop where the whole figure freezes is its edge, and one in the middle of it is not", () => {
    const freeze = draft("frozen-end", 50, 80, { on: "hand_l", isOfFigure: true });
    expect(notesOf(freeze, draft("hard-stop", 50, 50, { on: "shin_r" }))).toBe(1);
    expect(notesOf(freeze, draft("hard-stop", 40, 40, { on: "shin_r" }))).toBe(2);
  });

  test("the hard ends of an even move of a limb are its own, those of another limb are not", () => {
    const even = draft("even-spacing", 20, 40, { on: "forearm_l" });
    expect(notesOf(even, draft("hard-stop", 40, 40, { on: "upper_arm_l" }))).toBe(1);
    expect(notesOf(even, draft("hard-start", 20, 20, { on: "hand_l" }))).toBe(1);
    expect(notesOf(even, draft("hard-stop", 40, 40, { on: "forearm_r" }))).toBe(2);
    // What carries the whole body is no joint of a limb.
    const body = draft("even-spacing", 20, 40, { on: "hips" });
    expect(notesOf(body, draft("hard-stop", 40, 40, { on: "thigh_l" }))).toBe(2);
  });

  test("a hand that stops by its own key is none of the stumble of the hips", () => {
    const stumble = draft("hitch", 20, 26, { on: "hips" });
    expect(notesOf(stumble, draft("hard-stop", 27, 27, { on: "hand_l" }))).toBe(2);
    const carried = draft("hard-stop", 27, 27, { on: "hand_l", key: { node: "hips" } });
    expect(notesOf(stumble, carried)).toBe(1);
  });

  test("a hand that is lost in the body and its arm that points at the lens are one view", () => {
    const lens = draft("limb-at-lens", 20, 50, { on: "hand_l" });
    expect(notesOf(lens, draft("merged-silhouette", 24, 45, { on: "hand_l" }))).toBe(1);
    expect(notesOf(lens, draft("merged-silhouette", 24, 45, { on: "hand_r" }))).toBe(2);
    // The turn that shows the arm shows the hand: the lens speaks, whichever weighs more.
    for (const size of [0.01, 0.05, 0.3]) {
      const lost = draft("merged-silhouette", 24, 45, { on: "hand_l", size });
      const [note, ...others] = assembleNotes(study, [lost, lens]);
      expect(others).toEqual([]);
      expect(note.check).toBe("limb-at-lens");
      expect(note.also?.map(({ check }) => check)).toEqual(["merged-silhouette"]);
    }
  });
});
