import { describe, expect, test } from "vitest";
import { isCycle } from "../../../../packages/core/motion/path/cycle.ts";

/** Poses of a path, 3 numbers each. */
function path(count: number, at: (pose: number) => readonly [number, number, number]): Float64Array {
  return Float64Array.from(Array.from({ length: count }, (_, pose) => at(pose)).flat());
}
const run = { from: 1, to: 36 };
/** Poses of the quickest cycle that is no tremble at 24 poses a second, of 14 reversals. */
const slowest = 48 / 14;
const circled = (pose: number, period: number) => (2 * Math.PI * pose) / period;
const beat = (pose: number, grows = 0): [number, number, number] => [
  (1 + grows * pose) * Math.sin(circled(pose, 6)),
  (1 + grows * pose) * 0.5 * Math.cos(2 * circled(pose, 6)),
  0,
];

describe("a path that goes through one cycle again and again", () => {
  test("is told from its pushes, be it that it grows", () => {
    expect(isCycle(path(38, beat), run, 0.6, slowest)).toBe(true);
    expect(
      isCycle(
        path(38, (pose) => beat(pose, 0.01)),
        run,
        0.6,
        slowest,
      ),
    ).toBe(true);
  });

  test("goes on its way as well", () => {
    expect(
      isCycle(
        path(38, (pose) => [beat(pose)[0], beat(pose)[1], 0.3 * pose]),
        run,
        0.6,
        slowest,
      ),
    ).toBe(true);
  });

  test("comes again no quicker than the limit: to and fro on every pose is a tremble, though it comes again after four", () => {
    expect(
      isCycle(
        path(38, (pose) => [0, (-1) ** pose, 0]),
        run,
        1,
        slowest,
      ),
    ).toBe(false);
    expect(isCycle(path(38, beat), run, 0.6, 7)).toBe(false);
  });

  test("comes three times at least", () => {
    const long = (pose: number): [number, number, number] => [
      Math.sin(circled(pose, 18)),
      0.1 * Math.cos(3 * circled(pose, 18)),
      0,
    ];
    expect(isCycle(path(56, long), { from: 1, to: 54 }, 0.2, slowest)).toBe(true);
    expect(isCycle(path(56, long), { from: 1, to: 40 }, 0.2, slowest)).toBe(false);
  });

  test("reverses six times in itself at the most: noise that was copied with its cycle is noise", () => {
    const noise = [0, 3, -2, 4, -5, 1, 3, -4, 2, -1];
    const copied = path(62, (pose) => [noise[pose % 10], noise[(3 * pose) % 10], 0]);
    expect(isCycle(copied, { from: 1, to: 60 }, 0.6, slowest)).toBe(true);
    expect(isCycle(copied, { from: 1, to: 60 }, 0.7, slowest)).toBe(false);
  });
});
