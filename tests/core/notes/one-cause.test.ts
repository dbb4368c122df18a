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

describe("of two checks, one slip", () => {
  const stop = draft("hard-stop", 20, 20, { on: "hand_l" });

  test("is what keys of one pose, or beside each other on a curve, do within the reach of a key", () => {
    const by = (key: Partial<NoteKey>) => ({ on: "hand_l", key: { node: "hand_l", ...key } });
    expect(notesOf(stop, draft("hitch", 22, 24, by({ index: 22, frame: 22 })))).toBe(1);
    expect(notesOf(stop, draft("hitch", 22, 24, by({ index: 23, frame: 23 })))).toBe(2);
    expect(notesOf(stop, draft("hitch", 22, 24, by({ channel: "rotation.z", index: 4, frame: 20 })))).toBe(1);
    expect(notesOf(stop, draft("hitch", 22, 24, by({ channel: "rotation.z", index: 4, frame: 22 })))).toBe(2);
    expect(notesOf(stop, draft("hitch", 25, 27, by({ index: 21, frame: 21 })))).toBe(2);
    expect(notesOf(stop, draft("key-off-frame", 20, 20, { ...by({ index: 20 }), measured: inFrames }))).toBe(
      2,
    );
  });

  test("is what a key between two frames does, which is of the nearer one", () => {
    const slip = draft("hitch", 20, 26, { on: "hand_l" });
    const within = (frame: number) =>
      draft("lone-joint", 21, 25, { on: "hand_l", key: { node: "hand_l", index: 40, frame } });
    expect(notesOf(slip, within(26.4))).toBe(1);
    expect(notesOf(slip, within(26.6))).toBe(2);
    expect(notesOf(slip, within(19.6))).toBe(1);
    expect(notesOf(slip, within(19.4))).toBe(2);
  });

  test("is what two joints of a limb do at once; three links away it is another one", () => {
    const at = (on: string) => draft("kinked-path", 21, 21, { on });
    expect(notesOf(draft("hard-stop", 20, 20, { on: "upper_arm_l" }), at("hand_l"))).toBe(1);
    expect(notesOf(draft("hard-stop", 20, 20, { on: "chest" }), at("hand_l"))).toBe(2);
    const own = {
      on: "hand_l",
      key: { node: "hand_l", channel: "rotation.z", index: 60, frame: 3 },
    } as const;
    expect(notesOf(stop, draft("kinked-path", 21, 21, own))).toBe(2);
    expect(notesOf(stop, draft("kinked-path", 20, 20, own))).toBe(1);
  });
});

const inFrames = { quantity: "way", value: 0.3, unit: "frames" } as const;

describe("of two checks, one state", () => {
  test("is how a limb gets into a pose that does not read, and out of it", () => {
    const view = draft("merged-silhouette", 30, 50, { on: "hand_l", key: { node: "upper_arm_l" } });
    const wrist = (from: number, to: number, on = "hand_l") => draft("still-wrist", from, to, { on });
    expect(notesOf(view, wrist(20, 31))).toBe(1);
    expect(notesOf(view, wrist(35, 45))).toBe(1);
    expect(notesOf(view, wrist(10, 20))).toBe(2);
    expect(notesOf(view, wrist(20, 31, "hand_r"))).toBe(2);
    // What the whole body does to the hand is no pose of the limb.
    const carried = draft("merged-silhouette", 30, 50, { on: "hand_l", key: { node: "hips" } });
    expect(notesOf(carried, wrist(20, 31))).toBe(2);
  });

  test("is what begins and ends with a state of what carries it, unless it lasts as long as the shot", () => {
    const lean = (from: number, to: number) => draft("off-balance", from, to, { on: "hips" });
    const look = (from: number, to: number) => draft("eye-line", from, to, { on: "head" });
    expect(notesOf(lean(20, 50), look(21, 49))).toBe(1);
    expect(notesOf(lean(20, 50), look(25, 49))).toBe(2);
    expect(notesOf(lean(0, 99), look(0, 99))).toBe(2);
  });

  test("is the move into a lean that goes as one block, and the leg that jumps there", () => {
    const lean = draft("off-balance", 30, 60, { on: "hips", key: { node: "hips", index: 1 } });
    const block = (from: number, to: number, node = "hips") =>
      draft("block-move", from, to, { on: "chest", key: { node, index: 90 } });
    expect(notesOf(lean, block(22, 32))).toBe(1);
    expect(notesOf(lean, block(22, 32, "chest"))).toBe(2);
    expect(notesOf(lean, block(36, 50))).toBe(2);
    expect(notesOf(lean, draft("spacing-jump", 60, 60, { on: "shin_l" }))).toBe(1);
    expect(notesOf(lean, draft("spacing-jump", 45, 45, { on: "shin_l" }))).toBe(2);
    expect(notesOf(lean, draft("spacing-jump", 60, 60, { on: "hand_l" }))).toBe(2);
  });

  test("is the body's event and what its keys do to a foot within the reach of a key", () => {
    const push = draft("lift-before-push", 40, 44, { on: "hips", key: { node: "hips", index: 9 } });
    const foot = (from: number, node = "hips") =>
      draft("through-ground", from, from + 4, { on: "foot_r", key: { node, index: 60 } });
    expect(notesOf(push, foot(33))).toBe(1);
    // Take-off and landing are two, however short the jump is.
    expect(notesOf(push, foot(30))).toBe(2);
    expect(notesOf(push, foot(33, "shin_r"))).toBe(2);
  });

  test("is the trunk that goes as one block, and does so again within a second", () => {
    const block = (from: number) => draft("block-move", from, from + 8, { on: "chest" });
    expect(notesOf(block(10), block(30))).toBe(1);
    expect(notesOf(block(10), block(60))).toBe(2);
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

test("a head that the picture cuts off, and that looks past its mark, are two: the camera moves for one of them", () => {
  const { nodes, ...alone } = bipedDocument({}, { range: [0, 100] });
  const seen = studyOf({
    ...alone,
    nodes: [...nodes, { id: "camera" }],
    cameras: [{ id: "shot", node: "camera", verticalFieldOfView: 30, aspect: 1.7778 }],
  });
  const count = (...drafts: readonly Draft[]) => assembleNotes(seen, drafts).length;
  const look = draft("eye-line", 22, 48, { on: "head" });
  const cut = (node: string) => draft("frame-edge", 20, 50, { on: "head", key: { node } });
  expect(count(cut("camera"), look)).toBe(2);
  // A head that is itself turned out of the picture is one pose of it.
  expect(count(cut("head"), look)).toBe(1);
});

test("what is there before a state and goes on behind it is none of the ways into it", () => {
  const lean = draft("off-balance", 30, 60, { on: "hips", key: { node: "hips", index: 1 } });
  const block = (from: number, to: number) =>
    draft("block-move", from, to, { on: "chest", key: { node: "hips", index: 90 } });
  expect(notesOf(lean, block(22, 32))).toBe(1);
  expect(notesOf(lean, block(10, 90))).toBe(2);
});

test("what two figures show at once by one camera is one; by a joint of their own it is told of each", () => {
  const alone = bipedDocument({}, { range: [0, 100] });
  const other = (id: string) => `second_${id}`;
  const twice = {
    ...alone,
    nodes: [
      ...alone.nodes,
      ...alone.nodes.map(({ parent, ...node }) => ({
        ...node,
        id: other(node.id),
        ...(parent === undefined ? {} : { parent: other(parent) }),
      })),
      { id: "camera" },
    ],
    figures: [...(alone.figures ?? []), { id: "second", parts: { root: other("hips") } }],
    cameras: [{ id: "shot", node: "camera", verticalFieldOfView: 30, aspect: 1.7778 }],
  };
  const both = studyOf(twice);
  const at = (id: string) => rigOf(both).indexOf.get(id) as number;
  const cutBy = (first: string, second: string) => {
    const drafts = [
      draft("frame-edge", 20, 60, { on: "head", key: { node: first } }),
      draft("frame-edge", 22, 60, { on: "head", figure: 1, key: { node: second } }),
    ];
    drafts[1] = { ...drafts[1], finding: { ...drafts[1].finding, node: at(other("head")) } };
    return assembleNotes(both, drafts).length;
  };
  expect(cutBy("camera", "camera")).toBe(1);
  expect(cutBy("head", other("head"))).toBe(2);
});
