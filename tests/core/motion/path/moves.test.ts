import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findMoves, holdsBetween } from "../../../../packages/core/motion/path/moves.ts";
import { minimumJerkPosition } from "../../../support/minimum-jerk.ts";

/** Steps of a minimum-jerk move over `length` frames, with rests of 10 frames before and after. */
const easedSteps = (length: number, travel = 1) =>
  Float64Array.from({ length: length + 21 }, (_, i) =>
    i === 0 ? 0 : travel * (minimumJerkPosition((i - 10) / length) - minimumJerkPosition((i - 11) / length)),
  );

describe("moves and holds", () => {
  test("an eased move is one move between two holds", () => {
    const steps = easedSteps(24);
    const moves = findMoves(steps, 0.002, 2, 24);
    expect(moves).toHaveLength(1);
    const [move] = moves;
    // At under 0.002 per frame the first and the last frames of the ease count as rest.
    expect(move.from).toBeGreaterThanOrEqual(10);
    expect(move.from).toBeLessThan(14);
    expect(move.to).toBeLessThanOrEqual(34);
    expect(move.to).toBeGreaterThan(30);
    expect(Math.abs(move.peak - 22.5)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(move.peakSpeed - 1.875)).toBeLessThan(0.01);
    expect(move.travel).toBeGreaterThan(0.98);
    expect([move.startsAtRest, move.endsAtRest]).toEqual([true, true]);
    expect(holdsBetween(moves, steps.length)).toEqual([
      { from: 0, to: move.from },
      { from: move.to, to: 44 },
    ]);
  });

  test("a short pause belongs to the move, a longer one ends it", () => {
    const steps = (pause: number) =>
      Float64Array.from([0, 0, 0, 0.1, 0.1, ...new Array(pause).fill(0), 0.1, 0.1, 0, 0]);
    expect(findMoves(steps(2), 0.01, 2, 24)).toHaveLength(1);
    expect(findMoves(steps(3), 0.01, 2, 24)).toHaveLength(2);
  });

  test("what never gets twice as fast as rest is no move; a move at the ends of the range has no rest there", () => {
    expect(findMoves(new Float64Array(30).fill(0.019), 0.01, 2, 24)).toEqual([]);
    expect(findMoves(new Float64Array(30).fill(0.021), 0.01, 2, 24)).toMatchObject([
      { from: 0, to: 29, startsAtRest: false, endsAtRest: false },
    ]);
  });

  test("moves and holds cover the range, in order, and share only their ends", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 0.05, noNaN: true }), { maxLength: 80 }),
        fc.integer({ min: 0, max: 4 }),
        (numbers, pause) => {
          const steps = Float64Array.from(numbers);
          const moves = findMoves(steps, 0.02, pause, 24);
          const holds = holdsBetween(moves, steps.length);
          const stretches = [...moves, ...holds].sort((a, b) => a.from - b.from || a.to - b.to);
          if (steps.length === 0) expect(stretches).toEqual([]);
          else {
            expect(stretches[0].from).toBe(0);
            expect(stretches[stretches.length - 1].to).toBe(steps.length - 1);
          }
          for (let i = 1; i < stretches.length; i++) expect(stretches[i].from).toBe(stretches[i - 1].to);
          for (const { from, to, peak, travel } of moves) {
            expect(peak).toBeGreaterThan(from);
            expect(peak).toBeLessThanOrEqual(to);
            expect(travel).toBeGreaterThan(0);
          }
        },
      ),
    );
  });

  test.each([
    [[], 0],
    [[0], 1],
    [[0, 0], 1],
  ])("nothing moves in %j", (numbers, holds) => {
    expect(findMoves(numbers, 0.01, 2, 24)).toEqual([]);
    expect(holdsBetween([], numbers.length)).toHaveLength(holds);
  });
});
