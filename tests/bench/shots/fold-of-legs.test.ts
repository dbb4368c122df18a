import { describe, expect, test } from "vitest";

interface Foot {
  fold: number;
  planted: boolean;
}
type Plant = { from: number; to: number; at: number[]; yaw: number; push?: number; roll?: number };
const { footCourse } = (await import(
  /* @vite-ignore */ new URL("./families/others/tools/legs.mjs", import.meta.url).href
)) as { footCourse: (plants: readonly Plant[]) => (frame: number) => Foot };

/** A walking dog's step at 24 frames per second: 14 frames of standing, 6 in the air. */
const step = (push: number, roll: number) =>
  footCourse([
    { from: 1, to: 15, at: [0, 0, 0], yaw: 0, push, roll },
    { from: 21, to: 60, at: [0, 0, 0.4], yaw: 0 },
  ]);
const foldsOf = (course: (frame: number) => Foot) => Array.from({ length: 30 }, (_, n) => course(1 + n).fold);

describe("the fold of a leg for a swing", () => {
  test("begins while the toe still stands, behind the rise of the heel", () => {
    const course = step(17, 4);
    expect(course(15)).toMatchObject({ planted: true });
    expect(course(15).fold).toBeGreaterThan(0.1);
    expect(course(12).fold).toBe(0);
  });

  test("is as quick as a minimum-jerk move from there to the top at most", () => {
    const folds = foldsOf(step(17, 4));
    // Greatest speed of minimum jerk: 15/8 of the mean one (Flash & Hogan 1985). Up in 4.92 frames, down in 3.48.
    const steps = folds.slice(1).map((fold, n) => fold - folds[n]);
    expect(Math.max(...steps)).toBeLessThan(1.875 / 4.92 + 1e-9);
    expect(Math.min(...steps)).toBeGreaterThan(-1.875 / 3.48 - 1e-9);
  });

  test("is gone where the foot lands, and complete in between", () => {
    const course = step(17, 4);
    expect(course(21).fold).toBe(0);
    expect(Math.max(...foldsOf(course))).toBeGreaterThan(0.95);
  });

  test("of a foot that leaves flat begins where it leaves", () => {
    const course = step(0, 4);
    expect(course(15).fold).toBe(0);
    expect(course(17).fold).toBeGreaterThan(0.5);
  });
});
