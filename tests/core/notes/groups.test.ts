import { describe, expect, test } from "vitest";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { Check, Finding } from "../../../packages/core/faults/check.ts";
import type { Note, NoteKey } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { assembleNotes } from "../../../packages/core/notes/assemble.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import type { Draft } from "../../../packages/core/notes/group.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { bipedDocument, type Curves, everyFrame, studyOf } from "../../support/shots.ts";

const still = studyOf(bipedDocument({}, { range: [0, 48] }));

/** What a check says of a node, made up, and how much of it goes with a key. */
function drafted(
  check: string,
  node: string,
  [from, to]: readonly [number, number],
  key: NoteKey & { readonly share: number },
): Draft {
  const finding: Finding = {
    node: rigOf(still).indexOf.get(node) as number,
    figure: 0,
    from,
    to,
    measured: { quantity: "way", value: 0.05, unit: "m" },
    expected: { max: 0.01, unit: "m", source: "this test" },
    excess: 5,
    size: 0.05,
    fault: null,
  };
  return {
    check: registry.find(({ name }) => name === check) as Check,
    subject: 0,
    finding,
    keys: [key],
    tried: key.share,
    message: `${check} speaks`,
    suggestion: "mend it",
  };
}

/** Joints that swing gently, with the pose of frame 24 off by some degrees in those that are named. */
function badFrame(nodes: readonly string[], degrees: number): Curves {
  return Object.fromEntries(
    nodes.map((node, k) => [
      `${node} rotation.z`,
      everyFrame(1, 48, (f) => 20 * Math.sin(f / 9 + k) + (f === 24 ? degrees : 0)),
    ]),
  );
}

describe("what nothing is seen of in the bookkeeping of keys", () => {
  const still = Object.fromEntries(
    ["head", "hand_l", "hand_r", "foot_l", "foot_r"].flatMap((node) =>
      ["x", "z"].map((axis) => [`${node} rotation.${axis}`, everyFrame(1, 24, () => 3)]),
    ),
  );
  const notes = (curves: Curves) => notesOf(studyOf(bipedDocument(curves), {}, { only: ["idle-curve"] }));

  test("is one polish note of its check, which counts and names the others", () => {
    const [note, ...others] = notes(still);
    expect(others).toEqual([]);
    expect(note.tier).toBe("polish");
    expect(new Set(note.seenAt)).toEqual(new Set(["head", "hand_l", "hand_r", "foot_l", "foot_r"]));
    expect(note.message).toMatch(
      /2 curves never change, .*, and the same again 4 times, on .+ and 1 more part$/,
    );
  });

  test("takes in curves that somebody has set here and there", () => {
    const set: Curves[string] = [
      [1, 5],
      [9, 5],
      [20, 5],
    ];
    const [note, ...others] = notes({ ...still, "spine rotation.x": set, "chest rotation.x": set });
    expect(others).toEqual([]);
    expect(note.seenAt).toHaveLength(7);
  });

  test("goes by one fix", () => {
    const { shot } = shotOf(bipedDocument(still));
    if (shot === null) throw new Error("The document is no shot.");
    const session = new FixSession(shot, resolveSettings(registry));
    const [note] = session.notes.filter(({ check }) => check === "idle-curve");
    const proven = session.prove(note);
    if (proven === null) throw new Error("No fix is proven.");
    session.make(proven);
    expect(session.notes.map(({ check }) => check)).not.toContain("idle-curve");
  });
});

describe("groups of notes", () => {
  const notes = (curves: Curves) => notesOf(studyOf(bipedDocument(curves), {}, { only: ["pop"] }));

  test("a fault that travels down a chain is one note, at its cause", () => {
    const [note, ...others] = notes(badFrame(["upper_arm_l"], 15));
    expect(others).toEqual([]);
    expect(note).toMatchObject({ node: "upper_arm_l", frames: [24, 24] });
    expect(note.keys[0]).toMatchObject({ node: "upper_arm_l", channel: "rotation.z", frame: 24 });
    expect(note.seenAt).toContain("hand_l");
  });

  test("two parts of one chain off at the same moment are one note with the keys of both", () => {
    const [note, ...others] = notes({
      ...badFrame(["upper_arm_l"], 15),
      ...badFrame(["forearm_l"], 60),
    });
    expect(others).toEqual([]);
    expect(note.message).toMatch(/, and so does another part at that moment$/);
    expect(new Set(note.keys.map(({ node }) => node))).toEqual(new Set(["upper_arm_l", "forearm_l"]));
  });

  test("two parts off at the same moment are two notes, three or more are one bad frame", () => {
    expect(notes(badFrame(["upper_arm_l", "thigh_r"], 15))).toHaveLength(2);
    const [note, ...others] = notes(badFrame(["upper_arm_l", "upper_arm_r", "thigh_r", "head"], 15));
    expect(others).toEqual([]);
    expect(note.message).toMatch(/, and so do 3 other parts at that moment$/);
    expect(new Set(note.keys.map(({ node }) => node))).toEqual(
      new Set(["upper_arm_l", "upper_arm_r", "thigh_r", "head"]),
    );
    expect(note.keys.every(({ frame }) => frame === 24)).toBe(true);
  });
});

test("a flip of the chest does not speak for a pop of the hips that carry it", () => {
  const flip: Curves[string] = [
    [1, -10],
    [20, -20],
    [28, 330],
    [48, 320],
  ];
  const hop = everyFrame(1, 48, (f) => (f === 24 ? 0.03 : 0));
  const notes = (curves: Curves) =>
    notesOf(studyOf(bipedDocument(curves), {}, { only: ["pop", "rotation-flip"] })).map(
      ({ check, node, frames }) => `${check} ${node} ${frames.join("-")}`,
    );
  const [flips] = notes({ "chest rotation.y": flip });
  expect(flips).toMatch(/^rotation-flip chest/);
  const both = notes({ "hips translation.y": hop, "chest rotation.y": flip });
  expect(both).toContain("pop hips 24-24");
  expect(both).toContain(flips);
});

test("legs that stumble under hips that pop do not speak for the hips, though one key makes both", () => {
  const key = { node: "hips", channel: "translation.y", frame: 24, index: 3 } as const;
  // No one key makes most of a stumble of legs that stand, so that it is told where it is seen.
  const draftOf = (check: string, node: string, share = 0.4) =>
    drafted(check, node, [24, 24], { ...key, share });
  const notes = (...drawn: readonly Draft[]) => assembleNotes(still, drawn);
  const checks = (made: readonly Note[]) =>
    made.flatMap((note) => [note, ...(note.also ?? [])]).map(({ check, node }) => `${check} ${node}`);
  const pop = draftOf("pop", "hips", 0.9);
  expect(checks(notes(pop, draftOf("hitch", "thigh_l"))).sort()).toEqual(["hitch thigh_l", "pop hips"]);
  expect(checks(notes(pop, draftOf("hitch", "hips")))).toEqual(["hitch hips"]);
});

test("a hitch of what carries a part does not speak for the part's own pop", () => {
  const curves: Curves = {
    "hips translation.z": everyFrame(1, 48, (f) => 0.02 * f),
    "upper_arm_l rotation.z": everyFrame(1, 48, (f) => 3 * (f > 24 && f < 28 ? 24 : f)),
  };
  const pop = everyFrame(1, 48, (f) => (f === 26 ? 12 : 0));
  const notes = (more: Curves) =>
    notesOf(studyOf(bipedDocument({ ...curves, ...more }), {}, { only: ["pop", "hitch"] }))
      .map(({ check, node }) => `${check} ${node}`)
      .sort();
  expect(notes({})).toEqual(["hitch upper_arm_l"]);
  expect(notes({ "hand_l rotation.x": pop })).toEqual(["hitch upper_arm_l", "pop hand_l"]);
});

test("a doubled frame of hips is told as their hitch, however far the legs under them leave their ways", () => {
  const keyOf = (node: string) => ({ node, channel: "rotation.x", frame: 24, index: 3, share: 0.5 }) as const;
  const pops = ["thigh_l", "thigh_r"].map((node) => drafted("pop", node, [24, 24], keyOf(node)));
  const seen = pops.map((draft) => ({ ...draft, finding: { ...draft.finding, size: 0.2 } }));
  const hips = (check: string) => drafted(check, "hips", [24, 24], { ...keyOf("hips"), share: 1 });
  const [first, ...others] = assembleNotes(still, [...seen, hips("hitch")]);
  expect(others).toEqual([]);
  expect(first).toMatchObject({ check: "hitch", node: "hips" });
  // Where the hips pop too the part that is seen most speaks.
  expect(assembleNotes(still, [...seen, hips("pop")])[0].node).toMatch(/^thigh_/);
});

test("a hitch that shows on what hangs on the hips alone does not speak for their pop", () => {
  const key = { node: "hips", channel: "translation.y", frame: 24, index: 3, share: 0.9 } as const;
  const hitchOn = (...nodes: readonly string[]) => {
    const drawn = drafted("hitch", "hips", [24, 24], key);
    const seenAt = nodes.map((node) => rigOf(still).indexOf.get(node) as number);
    return { ...drawn, finding: { ...drawn.finding, node: seenAt[0], seenAt } };
  };
  const pop = drafted("pop", "hips", [24, 24], key);
  const checks = (hitch: Draft) =>
    assembleNotes(still, [pop, hitch]).flatMap((note) =>
      [note, ...(note.also ?? [])].map(({ check }) => check),
    );
  expect(checks(hitchOn("hips", "head"))).toEqual(["hitch"]);
  expect(checks(hitchOn("head"))).toContain("pop");
});
