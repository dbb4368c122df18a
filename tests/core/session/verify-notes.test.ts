import { describe, expect, test } from "vitest";
import { type KeyEdit, tryEditShot } from "../../../packages/core/document/edit.ts";
import { setShot } from "../../../packages/core/document/inputs.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { type KeyChange, keyChanges } from "../../../packages/core/session/changes.ts";
import { judged } from "../../../packages/core/session/outcome.ts";
import { isOfOldMotion, madeOf, motionOf } from "../../../packages/core/session/verify/trial.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { bipedDocument, eased, everyFrame, pointDocument } from "../../support/shots.ts";
import { objection, set, settings, shotFrom } from "./objections.ts";

const about = (note: Partial<Note>): Note =>
  ({
    check: "pop",
    tier: "major",
    weight: 0.5,
    figure: null,
    node: null,
    seenAt: [],
    keys: [],
    ...note,
  }) as Note;

describe("the jolt of a note", () => {
  const way = eased(4, 40, 0, 1);
  const off = (frame: number) => way(frame) + (frame === 20 ? 0.1 : 0);
  const point = shotFrom(pointDocument({ "translation.x": everyFrame(1, 60, off) }));
  const note = about({ node: "point", frames: [20, 20] });

  test("is to be gone, not only smaller: less than half of it may be left", () => {
    const left = (share: number) =>
      objection(point, [set("point", "translation.x", 20, way(20) + share * 0.1)], note);
    expect(left(0)).toBeNull();
    expect(left(0.4)).toBeNull();
    expect(left(0.7)).toMatch(/^70 ?% of the jolt of the point would be left$/);
  });

  test("is no matter of notes that are about no jolt", () => {
    const edits = [set("point", "translation.x", 20, way(20) + 0.07)];
    expect(objection(point, edits, { ...note, check: "hard-stop" })).toBeNull();
  });
});

describe("a body that stood still as a whole", () => {
  const parts = ["head", "neck", "chest", "spine", "upper_arm_l", "upper_arm_r", "forearm_l", "forearm_r"];
  const turn = (frame: number) => eased(2, 20, 0, 20)(frame) + eased(44, 58, 0, -20)(frame);
  const curves = Object.fromEntries(parts.map((id) => [`${id} rotation.z`, everyFrame(1, 60, turn)]));
  const still = shotFrom(bipedDocument(curves));
  const note = about({ check: "frozen-hold", figure: "walker", node: "head", frames: [20, 44] });
  const drift = (ids: readonly string[]) =>
    ids.flatMap((id) =>
      Array.from({ length: 25 }, (_, i) =>
        set(id, "rotation.z", 20 + i, 20 + 0.7 * Math.sin((Math.PI * i) / 24)),
      ),
    );

  test("lives when a part of it that is seen drifts", () => {
    expect(objection(still, drift(["spine", "chest"]), note)).toBeNull();
  });

  test("is a picture still where less than a tenth of it moves", () => {
    const stiff = [...Array(25).keys()].map((i) => set("head", "rotation.z", 20 + i, 20 + 0.0002 * i));
    expect(objection(still, stiff, note)).toMatch(/moving parts of the body would still stand still$/);
  });
});

describe("what becomes of other notes", () => {
  const never = () => false;
  const old = about({ check: "pop", node: "head", frames: [10, 10], fingerprint: "a" });
  const other = about({ check: "hitch", node: "hand_l", frames: [30, 31], fingerprint: "b" });

  test("is told where a change brings one in or makes one worse", () => {
    expect(judged(old, [old], [other], never, [])).toBe(
      "it would bring in a major note, hitch of hand_l over frames 30 to 31",
    );
    expect(judged(old, [old, other], [{ ...other, weight: 0.6 }], never, [])).toMatch(
      /^it would make a major note, hitch/,
    );
    expect(judged(old, [old, other], [other], never, [])).toEqual({ gone: [old], added: [] });
  });

  test("says of what is left where it is, how much, and how much passes", () => {
    const measured = { quantity: "way off its path", value: 0.042, unit: "m" } as const;
    const expected = { max: 0.01, unit: "m", source: "" } as const;
    const left = about({ ...old, measured, expected, frames: [10, 11] });
    expect(judged(old, [old], [left], never, [])).toBe(
      "pop would still be noted there: way off its path: 4.2 cm over frames 10 to 11, where at most 1 cm passes",
    );
  });

  test("does not hold a note against a change that only showed it: nothing of it moves otherwise", () => {
    const hidden = (note: Note) => note.node === "hand_l";
    expect(judged(old, [old], [other], hidden, [])).toEqual({ gone: [old], added: [other] });
  });
});

describe("a slip that another one hid in the same frames", () => {
  const never = () => false;
  const key = (node: string, frame: number) => ({ node, channel: "rotation.x", index: 1, frame }) as const;
  const first = about({
    check: "pop",
    node: "hips",
    seenAt: ["hips", "neck", "head"],
    keys: [key("hips", 20)],
    frames: [20, 20],
    weight: 0.5,
    measured: { quantity: "way off its path", value: 0.042, unit: "m" },
    expected: { max: 0.01, unit: "m", source: "" },
  });
  const second = about({
    ...first,
    node: "neck",
    seenAt: ["neck", "head"],
    keys: [key("neck", 20)],
    weight: 0.4,
  });
  const change = (node: string): KeyChange => ({ node, channel: "rotation.x", before: null, after: null });

  test("is another note, which is not held against the change that clears the first", () => {
    expect(judged(first, [first], [second], never, [change("hips")])).toEqual({
      gone: [first],
      added: [second],
    });
  });

  test("is the same note where its keys were touched, where the first one names them, and where it grows", () => {
    const left = /^pop would still be noted there/;
    expect(judged(first, [first], [second], never, [change("hips"), change("neck")])).toMatch(left);
    const both = { ...first, keys: [key("hips", 20), key("neck", 20)] };
    expect(judged(both, [both], [second], never, [change("hips")])).toMatch(left);
    expect(judged(first, [first], [{ ...second, weight: 0.9 }], never, [change("hips")])).toMatch(left);
  });
});

describe("a note that a change did not make", () => {
  const walker = shotFrom(bipedDocument({}, { range: [1, 60] }));
  /** Whether what a note is about moves as before, once a key has been set. */
  const isAsBefore = (edit: KeyEdit, note: Partial<Note>, shot = walker) => {
    const study = studyOf(shot, settings);
    const before = motionOf(study);
    const edits = [edit];
    const { shot: after } = tryEditShot(shot, edits);
    setShot(study, after, shot);
    const own = about({ figure: "walker", node: "hips", frames: [20, 30] });
    const made = madeOf(study, before, own, keyChanges(shot, after, edits));
    return isOfOldMotion(made, about({ node: "foot_l", frames: [20, 30], ...note }));
  };
  const [lifted, shifted] = (["y", "x"] as const).map((axis) =>
    set("hips", `translation.${axis}`, 1, axis === "y" ? 1.02 : 0.02),
  );

  test("is one about parts that are where they were", () => {
    const waved = set("upper_arm_l", "rotation.z", 1, 20);
    expect(isAsBefore(waved, { check: "pop" })).toBe(true);
    expect(isAsBefore(waved, { check: "pop", node: "hand_l" })).toBe(false);
  });

  test("of a slide asks for the way along the ground alone", () => {
    expect(isAsBefore(lifted, { check: "contact-slide" })).toBe(true);
    expect(isAsBefore(lifted, { check: "pop" })).toBe(false);
    expect(isAsBefore(shifted, { check: "contact-slide" })).toBe(false);
  });

  test("is none about the parts whose keys it names, where these move", () => {
    const keys = [{ node: "hips", channel: "translation.y", frame: 20, index: 0 }] as Note["keys"];
    expect(isAsBefore(lifted, { check: "contact-slide", keys })).toBe(true);
    expect(isAsBefore(set("hips", "rotation.y", 1, 10), { check: "pop", node: "head", keys })).toBe(false);
  });

  test("is one about a long stretch of which hardly any moves otherwise", () => {
    const still = everyFrame(1, 60, () => 10);
    const waver = shotFrom(bipedDocument({ "upper_arm_l rotation.z": still }, { range: [1, 60] }));
    const spike = set("upper_arm_l", "rotation.z", 25, 30);
    const note = { check: "retraced-path", node: "hand_l" };
    expect(isAsBefore(spike, { ...note, frames: [10, 50] }, waver)).toBe(true);
    expect(isAsBefore(spike, { ...note, frames: [22, 28] }, waver)).toBe(false);
    expect(isAsBefore(set("chest", "rotation.z", 1, 20), { ...note, frames: [10, 50] }, waver)).toBe(false);
  });
});
