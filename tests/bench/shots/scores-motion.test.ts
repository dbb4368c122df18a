import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { Performance, Poses } from "./types.d.ts";

const { limitAfter } = await shotsModule("scores/cleared.mjs");
const { damageOf, driftOf, slideOf } = await shotsModule("scores/damage.mjs");
const { biggestFault, largestMove, weightOf } = await shotsModule("scores/rank.mjs");
const { placeWith, tinyPlan } = await shotsModule("scores/tiny.mjs");

const noteAt = (index: number) => ({ index });

/** Poses of one figure whose joints go where they are told. */
function posed(
  at: (joint: string, frame: number) => [number, number, number],
  more: Partial<Performance> = {},
) {
  const { figures } = tinyPlan().perform();
  return {
    first: 1,
    count: 40,
    position: at,
    orientation: () => [0, 0, 0, 1],
    point: (joint: string, offset: number[], frame: number) =>
      at(joint, frame).map((value, axis) => value + offset[axis]!),
    performance: { figures, events: [], props: [], ...more },
  } as unknown as Poses;
}

describe("rank", () => {
  test("a fault's weight is the largest move of any joint in statures, times the root of its frames", () => {
    const still = posed(() => [0, 0, 0]);
    // 34 cm of a stature of 1.7 m on one frame: a fifth; 9 frames: times 3.
    const moved = posed((joint, frame) => (joint === "hand_l" && frame === 20 ? [0.34, 0, 0] : [0, 0, 0]));
    expect(largestMove(moved, still)).toBeCloseTo(0.2, 12);
    expect(weightOf(moved, still, 9)).toBeCloseTo(0.6, 12);
    expect(largestMove(moved, still, (_figure: string, frame: number) => frame !== 20)).toBe(0);
  });

  test("the biggest fault, and the first note that says it", () => {
    const saying = [[noteAt(0)], [noteAt(5), noteAt(3)], []];
    expect(biggestFault([0.1, 0.6, 0.2], saying)).toEqual({ fault: 1, saidBy: 3 });
    expect(biggestFault([0.1, 0.6, 0.9], saying)).toEqual({ fault: 2, saidBy: null });
    expect(biggestFault([0, 0, 0], saying)).toBeNull();
  });
});

describe("what a fix breaks", () => {
  const still = posed(() => [0, 0, 0]);
  const damage = (twin: Poses, before: Poses, after: Poses) =>
    damageOf({ twin, before, after }, "waver", 20, 22);

  test("a planted point that slides further, heel and toe apart", () => {
    const plantEvent = { kind: "plant", figure: "waver", limb: 0, from: 5, to: 15, rolls: false } as const;
    const events = [plantEvent];
    const slides = (per: number) =>
      posed((joint, frame) => (joint === "hand_l" ? [per * frame, 0, 0] : [0, 0, 0]), { events });
    // 10 steps of 3.4 mm: 3.4 cm of 1.7 m are 2 %.
    expect(slideOf(slides(0.0034), plantEvent)).toBeCloseTo(0.02, 12);
    expect(damage(slides(0), slides(0), slides(0.0034)).plant).toBe(true);
    expect(damage(slides(0), slides(0), slides(0.0015)).plant).toBe(false);
    // What the faulty shot slides is no damage of the fix, nor is sliding less.
    expect(damage(slides(0), slides(0.0034), slides(0.0034)).plant).toBe(false);
    expect(damage(slides(0), slides(0.0034), slides(0)).plant).toBe(false);
  });

  test("a held prop that drifts from the hand", () => {
    const hold = { kind: "hold-prop", prop: "cup", figure: "waver", limbs: [0], from: 5, to: 15 } as const;
    const events = [hold];
    const drifts = (by: number) =>
      posed((joint, frame) => (joint === "cup" && frame === 10 ? [0, by, 0] : [0, 0, 0]), { events });
    expect(driftOf(drifts(0.034), hold)).toBeCloseTo(0.02, 12);
    expect(damage(drifts(0), drifts(0), drifts(0.034)).prop).toBe(true);
    expect(damage(drifts(0), drifts(0), drifts(0.01)).prop).toBe(false);
  });

  test("motion outside of the note's frames, half a second beside them left to the fix", () => {
    const moved = (at: number) =>
      posed((joint, frame) => (joint === "head" && frame === at ? [0.017, 0, 0] : [0, 0, 0]));
    expect(damage(still, still, moved(34)).outside).toBe(0);
    expect(damage(still, still, moved(35)).outside).toBeCloseTo(0.01, 12);
    expect(damage(still, still, moved(7)).outside).toBeCloseTo(0.01, 12);
    expect(damage(still, still, moved(35)).otherFigure).toBe(false);
  });

  test("motion outside that gets farther from the twin; what comes nearer is mended", () => {
    const moved = (by: number) =>
      posed((joint, frame) => (joint === "head" && frame === 35 ? [by, 0, 0] : [0, 0, 0]));
    expect(damage(still, still, moved(0.02)).astray).toBe(true);
    expect(damage(still, still, moved(0.005)).astray).toBe(false);
    expect(damage(still, moved(0.02), still).astray).toBe(false);
    expect(damage(moved(0.02), moved(0.02), still).astray).toBe(true);
  });

  test("another figure that is moved", () => {
    const [waver] = tinyPlan().perform().figures;
    const figures = [
      waver!,
      { id: "other", body: { ...waver!.body, joints: [{ ...waver!.body.joints[0]!, id: "o" }] } },
    ];
    const other = (by: number) =>
      posed((joint, frame) => (joint === "o" && frame === 21 ? [by, 0, 0] : [0, 0, 0]), { figures });
    expect(damage(other(0), other(0), other(0.01))).toMatchObject({ otherFigure: true, frozen: false });
    expect(damage(other(0), other(0), other(0)).otherFigure).toBe(false);
  });

  test("a limb that stands still where it moved", () => {
    const waves = (wide: number) =>
      posed((joint, frame) => (joint === "hand_r" ? [wide * Math.sin(frame), 0, 0] : [0, 0, 0]));
    expect(damage(waves(0.1), waves(0.1), waves(0.01)).frozen).toBe(true);
    expect(damage(waves(0.1), waves(0.1), waves(0.05)).frozen).toBe(false);
    // Where the twin hardly moves, standing still is the fix.
    expect(damage(waves(0.001), waves(0.1), waves(0)).frozen).toBe(false);
  });
});

test("a fault is gone under what a barely seen one must show, or what other faults leave of it", () => {
  const planted = (left: number, now: number) => ({
    fault: { kind: { sizes: [{ value: 8 }], measure: () => left }, place: placeWith() },
    without: { poses: null },
    measured: now,
  });
  expect(limitAfter(planted(0, 15), null)).toBe(6);
  expect(limitAfter(planted(10, 15), null)).toBeCloseTo(11, 12);
  // Doing nothing must not do.
  expect(limitAfter(planted(14, 15), null)).toBe(6);
});
