import { describe, expect, test } from "vitest";
import { notesOf } from "../../../packages/core/notes/found.ts";
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
