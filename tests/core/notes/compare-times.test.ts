import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { heaviestChain } from "../../../packages/core/notes/compare-keys.ts";
import { timesBetween } from "../../../packages/core/notes/compare-times.ts";
import { everyFrame, type Keyed, pointDocument } from "../../support/shots.ts";

function shotWith(channels: Readonly<Record<string, Keyed>>, range?: readonly [number, number]): Shot {
  const { shot } = shotOf(pointDocument(channels, range === undefined ? {} : { range }));
  if (shot === null) throw new Error("not a shot");
  return shot;
}

const course = (frame: number) => Math.sin(frame / 7) + frame / 50;

describe("the time of two versions", () => {
  test("of a curve that is keyed on every frame, into which frames were put", () => {
    const before = shotWith({ "translation.x": everyFrame(1, 60, course) });
    const after = shotWith({
      "translation.x": [...everyFrame(1, 30, course), ...everyFrame(41, 70, (frame) => course(frame - 10))],
    });
    const { shot } = timesBetween(before, after);
    for (const frame of [1, 17, 30]) expect(shot.toAfter(frame)).toBeCloseTo(frame, 9);
    for (const frame of [31, 45, 60]) expect(shot.toAfter(frame)).toBeCloseTo(frame + 10, 9);
    expect(shot.toBefore(50)).toBeCloseTo(40, 9);
    expect(shot.knots).toHaveLength(4);
  });

  test("a hold of equal keys that was made longer does not disturb what is beside it", () => {
    const hold = (last: number) => [...everyFrame(1, 20, course), ...everyFrame(21, last, () => course(20))];
    const before = shotWith({ "translation.x": [...hold(30), ...everyFrame(31, 50, course)] });
    const after = shotWith({
      "translation.x": [...hold(42), ...everyFrame(43, 62, (frame) => course(frame - 12))],
    });
    const { shot } = timesBetween(before, after);
    expect(shot.toAfter(12)).toBeCloseTo(12, 9);
    expect(shot.toAfter(40)).toBeCloseTo(52, 9);
  });

  test("quaternion keys tell the time, too", () => {
    const turn = (frame: number): [number, number, number, number] => {
      const half = frame / 40;
      return [Math.sin(half), 0, 0, Math.cos(half)];
    };
    const keys = (shift: number) =>
      [5, 10, 25].map((frame): [number, [number, number, number, number]] => [frame + shift, turn(frame)]);
    const { shot } = timesBetween(shotWith({ rotation: keys(0) }), shotWith({ rotation: keys(7) }));
    expect(shot.toAfter(10)).toBe(17);
  });

  test("forward and back undo each other", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 3, maxLength: 10 }),
        fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 10, maxLength: 10 }),
        fc.double({ min: -50, max: 200, noNaN: true }),
        (gaps, others, frame) => {
          const sum = (list: readonly number[]) =>
            list.map((_, k) => list.slice(0, k + 1).reduce((a, b) => a + b, 0));
          const keys = (list: readonly number[]) =>
            sum(list).map((at, k): [number, number] => [at, k * k + 0.5]);
          const after = others.slice(0, gaps.length);
          const { shot } = timesBetween(
            shotWith({ "translation.x": keys(gaps) }),
            shotWith({ "translation.x": keys(after) }),
          );
          expect(shot.toBefore(shot.toAfter(frame))).toBeCloseTo(frame, 6);
          for (const [k, at] of sum(gaps).entries()) expect(shot.toAfter(at)).toBeCloseTo(sum(after)[k], 9);
        },
      ),
    );
  });

  test("without a key in common, frames are counted from the start of both ranges", () => {
    const before = shotWith({ "translation.x": everyFrame(1, 9, course) }, [1, 9]);
    const after = shotWith({ "translation.y": everyFrame(101, 109, course) }, [101, 109]);
    const { shot, curve } = timesBetween(before, after);
    expect(shot.knots).toEqual([]);
    expect([shot.toAfter(4), shot.toBefore(104)]).toEqual([104, 4]);
    expect(curve("point translation.x")).toBeNull();
  });
});

describe("the same key", () => {
  const name = "point translation.x";
  const keys = (values: readonly [number, number][]) =>
    shotWith({ "translation.x": values.map((key): [number, number] => key) });

  test("is known by its value, or by the keys around it where its value was changed", () => {
    const before = keys([
      [1, 0],
      [10, 5],
      [20, 8],
      [30, 3],
    ]);
    const after = keys([
      [3, 0],
      [12, 5],
      [24, 9],
      [32, 3],
    ]);
    const { sameKey } = timesBetween(before, after);
    expect(sameKey(name, 10, 12)).toBe(true);
    expect(sameKey(name, 20, 24)).toBe(true);
    expect(sameKey(name, 20, 32)).toBe(false);
    expect(sameKey(name, 10, 24)).toBe(false);
  });

  test("of keys that were put in or taken out, nobody can tell", () => {
    const before = keys([
      [1, 0],
      [10, 5],
      [30, 3],
    ]);
    const after = keys([
      [1, 0],
      [10, 5],
      [15, 7],
      [22, 6],
      [30, 3],
    ]);
    const { sameKey } = timesBetween(before, after);
    expect(sameKey(name, 10, 15)).toBe(false);
    expect(sameKey(name, 12, 15)).toBeNull();
    expect(sameKey("point translation.z", 10, 15)).toBeNull();
  });
});

test("the heaviest chain ascends on both sides and is the heaviest that does", () => {
  const tie = fc.record({
    before: fc.integer({ min: 0, max: 6 }),
    after: fc.integer({ min: 0, max: 6 }),
    weight: fc.integer({ min: 1, max: 5 }),
  });
  fc.assert(
    fc.property(
      fc.uniqueArray(tie, { maxLength: 9, selector: ({ before, after }) => `${before} ${after}` }),
      (ties) => {
        const chain = heaviestChain(ties);
        for (let k = 1; k < chain.length; k++) {
          expect(chain[k].before).toBeGreaterThan(chain[k - 1].before);
          expect(chain[k].after).toBeGreaterThan(chain[k - 1].after);
        }
        // Every subset tried, for comparison.
        let best = 0;
        for (let mask = 0; mask < 1 << ties.length; mask++) {
          const chosen = ties.filter((_, k) => (mask >> k) & 1).sort((p, q) => p.before - q.before);
          const ascends = chosen.every(
            (one, k) => k === 0 || (one.before > chosen[k - 1].before && one.after > chosen[k - 1].after),
          );
          if (ascends)
            best = Math.max(
              best,
              chosen.reduce((sum, { weight }) => sum + weight, 0),
            );
        }
        expect(chain.reduce((sum, { weight }) => sum + weight, 0)).toBe(best);
      },
    ),
  );
});
