import { expect, test } from "vitest";
import { notesOfCheck, pointDocument } from "../../../support/shots.ts";

test("an overshoot names the keys on both sides and says that they are a hold", () => {
  const [note] = notesOfCheck(
    pointDocument({
      "translation.y": {
        interpolation: "bezier",
        keys: [
          [1, 0.5, { out: [8, 0.04] }],
          [25, 0.5, { in: [-8, 0.04] }],
        ],
      },
    }),
    "overshoot",
  );
  expect(note.keys.map(({ frame }) => frame)).toEqual([1, 25]);
  expect(note.message).toContain("in a hold");
});
