import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { registry } from "../../../../packages/core/faults/registry.ts";
import { walkDocument } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { birdOfSpan, cruisingBeat } from "../../../../packages/core/motion/body/wing-beat.ts";
import {
  fourFootGait,
  froudeOf,
  gaitFacts,
  gaitsOf,
  usualSpeed,
  usualStride,
  usualWalkDuty,
} from "../../../../packages/core/motion/ground/gait.ts";
import { notesOf } from "../../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf as studyOfShot } from "../../../../packages/core/settings/study.ts";
import { capturedJump } from "../../../support/capture.ts";
import { notesOfCheck, studyOf } from "../../../support/shots.ts";

describe("a gait of two feet", () => {
  test("has the timing, the way and the duty factor that it was made with", () => {
    for (const { stepLength, stepFrames } of [
      { stepLength: 0.5, stepFrames: 12 },
      { stepLength: 0.65, stepFrames: 11 },
      { stepLength: 0.35, stepFrames: 18 },
    ]) {
      const [gait] = gaitsOf(studyOf(walkDocument({ stepLength, stepFrames, steps: 8 })), 0);
      expect(gait!.time).toBeCloseTo((2 * stepFrames) / 24, 2);
      expect(gait!.length).toBeCloseTo(2 * stepLength, 2);
      expect(gait!.speed).toBeCloseTo((stepLength * 24) / stepFrames, 2);
      // It stands from −0.5 to 0.75 of two steps; each end is seen a judged frame early or late, or a little more.
      expect(Math.abs(gait!.duty - 0.625)).toBeLessThan(2.5 / (2 * stepFrames));
      expect(gait!.airborne).toBe(0);
      expect(gait!.hips).toBeCloseTo(0.9, 1);
      expect(gait!.froude).toBeCloseTo(gait!.speed ** 2 / (9.80665 * gait!.hips), 9);
    }
  });

  test("its feet land half a stride apart", () => {
    const [gait] = gaitsOf(studyOf(walkDocument({ steps: 8 })), 0);
    expect(gait!.footfalls).toHaveLength(2);
    expect(gait!.footfalls[0]!.phase).toBeCloseTo(0, 6);
    expect(gait!.footfalls[1]!.phase).toBeCloseTo(0.5, 1);
  });

  test("too few strides, and none, make no gait", () => {
    expect(gaitsOf(studyOf(walkDocument({ steps: 2 })), 0)).toEqual([]);
    expect(gaitsOf(studyOf(walkDocument()), 5)).toEqual([]);
  });
});

describe("strides over speed", () => {
  test("follow 2.3 · Fr^0.3 in hip heights (Alexander 1976, from memory)", () => {
    expect(usualStride(Math.sqrt(9.80665), 1)).toBeCloseTo(2.3, 9);
    // A grown person who walks at 1.4 m/s takes strides of 1.3 to 1.5 m, one who runs at 3 m/s of 2.0 to 2.2 m (common values).
    expect(usualStride(1.4, 0.92)).toBeGreaterThan(1.25);
    expect(usualStride(1.4, 0.92)).toBeLessThan(1.5);
    expect(usualStride(3, 0.92)).toBeCloseTo(2.1, 1);
  });

  test("speeds and strides are each other's reverse, and scale with size as Froude's number says", () => {
    const some = fc.double({ min: 0.05, max: 20, noNaN: true });
    fc.assert(
      fc.property(some, some, fc.double({ min: 0.1, max: 10, noNaN: true }), (speed, height, factor) => {
        expect(usualSpeed(usualStride(speed, height), height) / speed).toBeCloseTo(1, 6);
        const scaled = usualStride(speed * Math.sqrt(factor), height * factor);
        expect(scaled / (factor * usualStride(speed, height))).toBeCloseTo(1, 6);
        expect(froudeOf(speed * Math.sqrt(factor), height * factor) / froudeOf(speed, height)).toBeCloseTo(
          1,
          6,
        );
      }),
    );
  });

  test("0.92 m of leg change from walking to running at 2.12 m/s and walk best at 1.5 m/s (Kram and others 1997)", () => {
    expect(froudeOf(2.124, 0.92)).toBeCloseTo(gaitFacts.walkRun, 3);
    expect(froudeOf(1.502, 0.92)).toBeCloseTo(0.25, 3);
  });

  test("a walking foot stands for 0.59 of its stride at 1.5 m/s (Kirtley 1985)", () => {
    expect(usualWalkDuty(1.5, 0.92)).toBeCloseTo(0.5895, 4);
  });
});

test("gaits of four feet are named by their footfalls (Hildebrand)", () => {
  expect(fourFootGait(0.25, 0.5)).toBe("lateral sequence");
  expect(fourFootGait(0.5, 0.5)).toBe("trot");
  expect(fourFootGait(0, 0.5)).toBe("pace");
  expect(fourFootGait(0.98, 0.48)).toBe("pace");
  expect(fourFootGait(0.75, 0.5)).toBe("diagonal sequence");
  expect(fourFootGait(0.5, 0.15)).toBe("gallop or bound");
});

test("a cruising bird's beat follows mass, span and wing area (Pennycuick 1996, worked examples at 1.225 kg/m³)", () => {
  expect(cruisingBeat(0.085, 0.384, 0.0251)).toBeCloseTo(9.8, 1);
  expect(cruisingBeat(0.35, 0.66, 0.066)).toBeCloseTo(7.2, 1);
  expect(cruisingBeat(0.55, 0.95, 0.14)).toBeCloseTo(4.7, 1);
  expect(cruisingBeat(10, 2.3, 0.65)).toBeCloseTo(3.6, 1);
  // More load in the same bird: ∝ m^½ by (m^3/8), a larger bird of the same shape: ∝ m^−1/6 (the same source).
  const [one, two] = [1, 2].map((mass) => cruisingBeat(mass, mass ** (1 / 3), 0.16 * mass ** (2 / 3)));
  expect(two! / one!).toBeCloseTo(2 ** (3 / 8 - 23 / 72 - 2 / 9), 6);
  expect(birdOfSpan(1.17).mass).toBeCloseTo(1, 9);
});

describe("gait-speed", () => {
  test("grows with what the strides are off, and says what would fit", () => {
    const values = [0.36, 0.3, 0.26].map((stepLength) => {
      const [note] = notesOfCheck(walkDocument({ stepLength, stepFrames: 6, steps: 12 }), "gait-speed");
      return note?.measured.value ?? 1;
    });
    expect(values[1]!).toBeLessThan(values[0]!);
    expect(values[2]!).toBeLessThan(values[1]!);
    const [note] = notesOfCheck(walkDocument({ stepLength: 0.3, stepFrames: 6, steps: 12 }), "gait-speed");
    expect(note!.tier).toBe("minor");
    expect(note!.message).toMatch(/^takes strides of 60 cm at 1\.2 m\/s/);
  });

  test("says nothing of a captured jump", () => {
    const study = studyOfShot(capturedJump(), resolveSettings(registry, {}, { only: ["gait-speed"] }));
    expect(notesOf(study)).toEqual([]);
    expect(gaitsOf(study, 0)).toEqual([]);
  });
});
