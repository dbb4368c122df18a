import fc from "fast-check";
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

/** A wave over whole turns with a key on every so many frames, each with the wave's own slope. */
const wave = (every: number, phase: number, period: number) =>
  pointDocument({
    "translation.y": {
      interpolation: "cubic",
      keys: Array.from({ length: Math.floor(96 / every) + 1 }, (_, i) => {
        const at = (2 * Math.PI * (i * every + phase)) / period;
        const slope = (0.2 * 2 * Math.PI * Math.cos(at)) / period;
        return [1 + i * every, 0.2 * Math.sin(at), { in: slope, out: slope }];
      }),
    },
  });

test("keys that follow a wave with its own slopes make no overshoot, wherever they fall on it", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 4 }),
      fc.double({ min: 0, max: 24, noNaN: true }),
      fc.integer({ min: 16, max: 48 }),
      (every, phase, period) => {
        const inside = notesOfCheck(wave(every, phase, period), "overshoot").filter(
          ({ frames: [from] }) => from > 1 + every && from < 97 - 2 * every,
        );
        expect(inside).toEqual([]);
      },
    ),
  );
});
