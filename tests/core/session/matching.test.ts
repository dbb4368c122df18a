import { describe, expect, test } from "vitest";
import type { Note } from "../../../packages/core/faults/note.ts";
import { matchNotes } from "../../../packages/core/session/matching.ts";

function note(changes: Partial<Note>): Note {
  return {
    check: "pop",
    tier: "major",
    weight: 0.6,
    figure: "body",
    node: "hand",
    seenAt: ["hand", "fingers"],
    frames: [10, 12],
    keys: [],
    message: "",
    measured: { quantity: "", value: 1, unit: "m" },
    expected: { unit: "m", source: "" },
    why: "",
    suggestion: "",
    evidence: [],
    fingerprint: "a",
    ...changes,
  };
}

const matched = (before: Note, after: Note) => matchNotes([before], [after]).get(before) === after;

describe("notes of two versions", () => {
  test.each<[string, Partial<Note>, Partial<Note>]>([
    ["their fingerprint, at the same place", {}, { weight: 0.2, tier: "minor" }],
    ["their fingerprint, moved in time", {}, { frames: [40, 42] }],
    ["check, node and frames: the key has another value", {}, { fingerprint: "b", frames: [11, 12] }],
    ["frames that lie next to each other", {}, { fingerprint: "b", frames: [13, 14] }],
    ["a part on which both show", {}, { fingerprint: "b", node: "forearm", seenAt: ["forearm", "fingers"] }],
  ])("are one by %s", (_, before, after) => {
    expect(matched(note(before), note(after))).toBe(true);
  });

  test.each<[string, Partial<Note>, Partial<Note>]>([
    ["another check", {}, { fingerprint: "b", check: "hitch" }],
    ["other frames", {}, { fingerprint: "b", frames: [14, 15] }],
    ["another part", {}, { fingerprint: "b", node: "foot", seenAt: ["foot"] }],
    ["another figure's part of the same name", {}, { fingerprint: "b", figure: "partner" }],
  ])("are two for %s", (_, before, after) => {
    expect(matched(note(before), note(after))).toBe(false);
  });

  test("each is matched once: the nearer one first", () => {
    const [first, second] = [note({ frames: [10, 12] }), note({ frames: [30, 32], fingerprint: "b" })];
    const near = note({ frames: [10, 12], fingerprint: "c" });
    const far = note({ frames: [31, 33], fingerprint: "d" });
    const extra = note({ frames: [12, 13], fingerprint: "e" });
    const matches = matchNotes([first, second], [extra, far, near]);
    expect(matches.get(first)).toBe(near);
    expect(matches.get(second)).toBe(far);
    expect([...matches.values()]).not.toContain(extra);
  });
});
