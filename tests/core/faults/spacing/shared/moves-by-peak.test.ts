import fc from "fast-check";
import { expect, test } from "vitest";
import {
  movesByPeak,
  movesByPeakAnew,
} from "../../../../../packages/core/faults/spacing/shared/moves-by-peak.ts";

/** Steps that rest, creep, dip and hurry: each is a level of its own. */
const anyStep = fc.constantFrom(0, 0, 0.4, 0.9, 1, 1.3, 2, 2.5, 4, 5, 9, 12, 30, 100);
const anySteps = fc.array(anyStep, { minLength: 4, maxLength: 60 });

test("moves that are looked for again where some steps changed are those of all the steps", () => {
  fc.assert(
    fc.property(
      anySteps,
      fc.array(anyStep, { minLength: 1, maxLength: 6 }),
      fc.nat(60),
      fc.constantFrom(-1 as const, 1 as const),
      (before, fresh, where, direction) => {
        const sought = { floor: 1, least: 0, direction };
        const known = movesByPeak(Float64Array.from(before), sought);
        const from = Math.min(where, before.length - 1);
        const after = before.map((step, k) => fresh[k - from] ?? step);
        const to = Math.min(before.length - 1, from + fresh.length - 1);
        const steps = Float64Array.from(after);
        const { first, end, moves } = movesByPeakAnew(steps, sought, known, from, to);
        expect(known.toSpliced(first, end - first, ...moves)).toEqual(movesByPeak(steps, sought));
      },
    ),
    { numRuns: 2000 },
  );
});

test("of a long series of moves only those beside a change are looked for again", () => {
  const steps = Float64Array.from({ length: 3000 }, (_, k) => Math.max(0, 10 * Math.sin(k / 5)));
  const sought = { floor: 1, least: 0, direction: -1 as const };
  const known = movesByPeak(steps, sought);
  steps[1500] += 1;
  const { first, end, moves } = movesByPeakAnew(steps, sought, known, 1500, 1500);
  expect(known.length).toBeGreaterThan(90);
  expect(end - first).toBeLessThanOrEqual(2);
  expect(moves.length).toBeLessThanOrEqual(2);
});
