import { describe, expect, test } from "vitest";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { FixSession } from "../../../packages/core/session/proving.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { bipedDocument, type Curves, everyFrame, studyOf } from "../../support/shots.ts";

/** Joints that swing gently, with the pose of frame 24 off by some degrees in those that are named. */
function badFrame(nodes: readonly string[], degrees: number): Curves {
  return Object.fromEntries(
    nodes.map((node, k) => [
      `${node} rotation.z`,
      everyFrame(1, 48, (f) => 20 * Math.sin(f / 9 + k) + (f === 24 ? degrees : 0)),
    ]),
  );
}

describe("what nothing is seen of in keys on every frame", () => {
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

  test("is apart from curves that somebody has set here and there", () => {
    const set: Curves[string] = [
      [1, 5],
      [9, 5],
      [20, 5],
    ];
    const found = notes({ ...still, "spine rotation.x": set, "chest rotation.x": set });
    expect(found.map(({ node }) => node)).toHaveLength(3);
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
