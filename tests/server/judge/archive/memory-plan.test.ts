import { totalmem } from "node:os";
import fc from "fast-check";
import { expect, test } from "vitest";
import { memoryForRun, memoryPlan } from "../../../../packages/server/judge/archive/memory-plan.ts";

const megabyte = 1_000_000;

test("the default comes from the machine", () => {
  expect(memoryForRun()).toBeGreaterThan(0);
  expect(memoryForRun()).toBeLessThanOrEqual(totalmem() / 2);
});

test("less memory never gives more workers nor more room for each, and there is always one", () => {
  fc.assert(
    fc.property(fc.nat(4000), fc.nat(4000), fc.integer({ min: 1, max: 64 }), (a, b, wanted) => {
      const [less, more] = [Math.min(a, b), Math.max(a, b)].map((size) => size * megabyte) as [
        number,
        number,
      ];
      const plan = memoryPlan(less, wanted, false);
      expect(plan.workers).toBeGreaterThanOrEqual(1);
      expect(plan.workers).toBeLessThanOrEqual(memoryPlan(more, wanted, false).workers);
      expect(memoryPlan(less, wanted, true).young).toBeLessThanOrEqual(memoryPlan(more, wanted, true).young);
      expect(memoryPlan(less, wanted, true).workers).toBe(wanted);
      expect(plan.young).toBeGreaterThanOrEqual(4);
    }),
  );
});

test("a small machine gets one worker, a large one as many as it has cores", () => {
  expect(memoryPlan(200 * megabyte, 8, false).workers).toBe(1);
  expect(memoryPlan(64_000 * megabyte, 8, false).workers).toBe(8);
});
