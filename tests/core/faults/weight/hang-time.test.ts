import { describe, expect, test } from "vitest";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { g, jump, jumpDocument, jumpWithHips } from "../../../support/bodies.ts";
import { capturedJump } from "../../../support/capture.ts";
import { along, documentOf, notesOfCheck, type Vector } from "../../../support/shots.ts";

const notes = (document: Parameters<typeof notesOfCheck>[0]) => notesOfCheck(document, "hang-time");

describe("hang-time", () => {
  test("a jump under gravity is silent, high or low, on the spot or forward", () => {
    for (const air of [8, 12, 18]) {
      for (const forward of [0, 1.5]) expect(notes(jumpDocument({ air, forward }))).toEqual([]);
    }
  });

  test("says how many frames of hang to take out of a jump that floats", () => {
    // 12 frames from take-off to landing at half of gravity: the same heights take 12 · √(4.903325 / 9.80665) = 8.49 frames.
    const [note] = notes(jumpDocument({ gravity: g / 2 }));
    expect(note.tier).toBe("major");
    expect(note.message).toContain("hangs too long: 12 frames from take-off to landing, clear of the");
    expect(note.suggestion).toContain("take 4 frames of hang out: 8 frames from take-off to landing");
  });

  test("says how many frames to add to a jump that drops too fast", () => {
    // 12 · √2 = 16.97.
    const [note] = notes(jumpDocument({ gravity: 2 * g }));
    expect(note.message).toContain("drops too fast");
    expect(note.suggestion).toContain("add 5 frames of hang: 17 frames from take-off to landing");
  });

  test.each([1.3, 1 / 1.3])("gravity that is off by a factor of %d is within the tolerance", (factor) => {
    expect(notes(jumpDocument({ gravity: factor * g }))).toEqual([]);
  });

  test.each([1.45, 1 / 1.45])("gravity that is off by a factor of %d is not", (factor) => {
    expect(notes(jumpDocument({ gravity: factor * g }))).toHaveLength(1);
  });

  test("names the key at the top that presses a jump down", () => {
    const { heightKeys, takeOff, landing } = jump();
    const apex = (takeOff + landing) / 2;
    const pressed = jumpWithHips({}, [...heightKeys.slice(0, 3), [apex, 1.0], ...heightKeys.slice(3)]);
    expect(notes(pressed)[0]).toMatchObject({
      node: "hips",
      keys: [{ node: "hips", channel: "translation.y", frame: apex }],
    });
  });

  test("names the key that leaves the parabola, and where to", () => {
    const { heightKeys, takeOff, landing, motion } = jump({ air: 16 });
    const frame = takeOff + 4;
    const [, height] = motion.hips(frame);
    const after = (height: number) =>
      [...heightKeys.slice(0, 3), [frame, height, 0.02], ...heightKeys.slice(3)] as const;
    const [note] = notes(jumpWithHips({ air: 16 }, after(height + 0.15)));
    expect(note.message).toContain("leaves the parabola of its flight");
    expect(note.keys[0]).toMatchObject({ node: "hips", channel: "translation.y", frame });
    expect(note.frames[0]).toBeGreaterThanOrEqual(takeOff);
    expect(note.frames[1]).toBeLessThanOrEqual(landing);
  });

  test.each([24, 25, "24000/1001", 60])("finds the same at %s frames per second, in any unit", (rate) => {
    for (const unit of [1, 0.01, 0.0254]) {
      const [note, ...others] = notes(jumpDocument({ rate, unit, gravity: g / 2 }));
      expect(others).toEqual([]);
      expect(note.measured.value).toBeCloseTo(g / 2, 1);
    }
  });

  test("an inferred scale is good enough to judge by, and one at rest is known", () => {
    expect(notes(jumpDocument({ unit: 0.01, declaresUnit: false, gravity: g / 2 }))).toHaveLength(1);
    expect(notes(jumpDocument({ unit: 0.01, declaresUnit: false }))).toEqual([]);
  });

  test("a captured jump obeys gravity", () => {
    const study = studyOf(capturedJump(), resolveSettings(registry, {}, { only: ["hang-time"] }));
    expect(notesOf(study)).toEqual([]);
  });

  describe("of a body whose masses no table gives", () => {
    /** Four legs that jump for twelve frames: how high the trunk rises, and how far the legs are drawn up meanwhile. */
    const onFours = (rise: number, drawn: number) => {
      const arc = (frame: number) => {
        const t = Math.min(1, Math.max(0, (frame - 20) / 12));
        return 4 * t * (1 - t);
      };
      const legs = [0, 1, 2, 3].map((leg) => ({ leg, side: leg % 2 === 0 ? 0.2 : -0.2 }));
      const curves = legs.map(({ leg, side }) =>
        along(`point_${leg}`, 1, 60, (frame): Vector => [side, -0.39 + drawn * arc(frame), 0]),
      );
      return documentOf(
        [
          { id: "body", translation: [0, 0.4, 0] },
          ...legs.flatMap(({ leg, side }) => [
            {
              id: `strut_${leg}`,
              parent: "body",
              translation: [side, 0, 0.15 * (leg >> 1)] as [number, number, number],
            },
            {
              id: `point_${leg}`,
              parent: `strut_${leg}`,
              translation: [side, -0.39, 0] as [number, number, number],
            },
          ]),
        ],
        Object.assign(
          {},
          along("body", 1, 60, (frame) => [0, 0.4 + rise * arc(frame), 0]),
          ...curves,
        ),
        {
          range: [1, 60],
          more: {
            surfaces: [{ id: "floor", height: 0 }],
            contacts: legs.flatMap(({ leg }) =>
              [
                [1, 20],
                [32, 60],
              ].map((frames) => ({ node: `point_${leg}`, frames: frames as [number, number] })),
            ),
          },
        },
      );
    };
    /** g·t²/8 of half a second: the height of a jump under gravity. */
    const height = g / 32;

    test("legs that are drawn up make no fall too fast, if the trunk falls as it should", () => {
      expect(notes(onFours(height, 0))).toEqual([]);
      expect(notes(onFours(height, 1.3 * height))).toEqual([]);
    });

    test("a trunk that falls too fast is told", () => {
      expect(notes(onFours(2 * height, 0))[0]?.message).toContain("drops too fast");
    });
  });
});
