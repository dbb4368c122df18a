import { expect, test } from "vitest";
import type { Config } from "../../../../packages/core/settings/config.ts";
import { bipedDocument, type Curves, everyFrame, notesOfCheck, onTwos } from "../../../support/shots.ts";

/** Locks of which nothing is seen are told as well. */
const all: Config = { checks: { "gimbal-lock": { values: { seen: { value: 0, unit: "H" } } } } };

test("gimbal lock is told once of a joint, however often it comes near lock", () => {
  const often = (f: number) => (f % 16 < 8 ? 88 : 40);
  const [note, ...others] = notesOfCheck(
    bipedDocument({
      "upper_arm_l rotation.y": everyFrame(1, 64, often),
      "upper_arm_l rotation.x": everyFrame(1, 64, (f) => (f < 32 ? 6 : 9) * f),
      "upper_arm_l rotation.z": everyFrame(1, 64, (f) => (f < 32 ? -6 : -9) * f),
    }),
    "gimbal-lock",
    all,
  );
  expect(others).toEqual([]);
  expect(note.message).toContain("in 3 more stretches of frames 1 to ");
  // The later stretches swing farther: the note is on one of them, and names its keys.
  expect(note.frames[0]).toBeGreaterThan(30);
  expect(note.keys[0].frame).toBeGreaterThan(30);
});

/** Both upper arms at 88° of the middle axis, with outer axes that go against each other from pose to pose. */
const locked = (keyed: (turn: (frame: number) => number) => Curves[string], config: Config) =>
  notesOfCheck(
    bipedDocument(
      Object.fromEntries(
        ["upper_arm_l", "upper_arm_r"].flatMap((node) => [
          [`${node} rotation.y`, [[1, 88]]],
          [`${node} rotation.x`, keyed((f) => 5 * f)],
          [`${node} rotation.z`, keyed((f) => -5 * f)],
        ]),
      ),
      { range: [1, 48] },
    ),
    "gimbal-lock",
    config,
  );
const dense = (turn: (frame: number) => number) => everyFrame(1, 48, turn);
const twos = (turn: (frame: number) => number) => onTwos(1, 47, turn);

test("locks of which no frame shows anything, on every frame or on twos, are told where they are asked for: as one polish note of the shot", () => {
  expect([...locked(dense, {}), ...locked(twos, {})]).toEqual([]);
  for (const [note, ...others] of [locked(dense, all), locked(twos, all)]) {
    expect(others).toEqual([]);
    expect(note.tier).toBe("polish");
    expect(note.message).toContain("the same again once");
  }
});

test("a lock that takes a joint off the shortest turn between its keys is a note by itself, as heavy as what is seen", () => {
  // The outer axes turn by 170° against each other while the middle one goes through its lock.
  const [note, ...others] = notesOfCheck(
    bipedDocument(
      {
        "upper_arm_l rotation.y": [
          [1, 80],
          [24, 100],
        ],
        "upper_arm_l rotation.x": [
          [1, 0],
          [24, 170],
        ],
        "upper_arm_l rotation.z": [
          [1, 0],
          [24, -170],
        ],
      },
      { range: [1, 24] },
    ),
    "gimbal-lock",
  );
  expect(others).toEqual([]);
  expect(note.tier).toBe("minor");
});
