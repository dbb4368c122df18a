import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Random } from "./types.d.ts";

const load = (path: string) => import(/* @vite-ignore */ new URL(`./${path}`, import.meta.url).href);
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

const drawn = (random: Random, count: number) => Array.from({ length: count }, () => random.next());

describe("seeded streams", () => {
  test("give the same numbers for the same seed, and others for another", () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (a, b) => {
        expect(drawn(randomOf(a), 5)).toEqual(drawn(randomOf(a), 5));
        if (a !== b) expect(drawn(randomOf(a), 5)).not.toEqual(drawn(randomOf(b), 5));
      }),
    );
  });

  test("fork by name: what is drawn before or beside a fork does not shift it", () => {
    const plain = drawn(randomOf("shot").fork("hair"), 5);
    const late = randomOf("shot");
    drawn(late, 100);
    drawn(late.fork("feet"), 7);
    expect(drawn(late.fork("hair"), 5)).toEqual(plain);
    const [one, other] = [randomOf("shot"), randomOf("shot")];
    drawn(one.fork("hair"), 9);
    expect(drawn(one, 5)).toEqual(drawn(other, 5));
  });

  test("are even: each tenth of the range gets a tenth of the draws, within five standard errors", () => {
    for (const seed of ["a", "b", "shot/0", "shot/1"]) {
      const random = randomOf(seed);
      const bins = new Array(10).fill(0);
      for (let n = 0; n < 20_000; n++) bins[Math.floor(10 * random.next())]++;
      // Binomial: √(20,000 · 0.1 · 0.9) = 42.4.
      for (const bin of bins) expect(Math.abs(bin - 2000)).toBeLessThan(5 * 42.4);
    }
  });

  test("draw whole numbers up to both ends, items of a list, and orders that keep all items", () => {
    const random = randomOf("dice");
    const dice = new Set(Array.from({ length: 300 }, () => random.integer(1, 6)));
    expect([...dice].sort()).toEqual([1, 2, 3, 4, 5, 6]);
    expect(new Set(Array.from({ length: 100 }, () => random.pick(["a", "b"])))).toEqual(new Set(["a", "b"]));
    expect(random.shuffled([1, 2, 3, 4, 5]).toSorted()).toEqual([1, 2, 3, 4, 5]);
    for (let n = 0; n < 100; n++) {
      const value = random.between(-2, 3);
      expect(value >= -2 && value < 3).toBe(true);
    }
    expect(Array.from({ length: 50 }, () => random.chance(0))).not.toContain(true);
    expect(Array.from({ length: 50 }, () => random.chance(1))).not.toContain(false);
  });
});
