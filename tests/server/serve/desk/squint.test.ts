import { expect, test } from "vitest";
import { examples } from "../../../../packages/core/faults/examples.ts";
import { squintOf } from "../../../../packages/server/serve/desk/notes.ts";
import { studyOf } from "../../../support/shots.ts";

const { faulty, silent } = examples["merged-silhouette"];
const wrong = studyOf(faulty[0].motion());
const right = studyOf((faulty[0].right ?? faulty[0].motion)());
const note = { check: "merged-silhouette", frames: [21, 60] } as const;

test("a note on staging is told with the camera's picture, its fix with that of before and after", () => {
  expect(squintOf(note, wrong, null)).toContain("at frame 21 and 41");
  expect(squintOf(note, wrong, right)).toContain("41, after the fix");
});

test("there is no picture for a note on something else, nor without a camera", () => {
  expect(squintOf({ ...note, check: "pop" }, wrong, null)).toBeNull();
  expect(squintOf(note, studyOf(silent[0].motion()), null)).toBeNull();
});
