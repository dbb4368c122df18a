import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bump, ramp, type Warp } from "../../../packages/core/faults/shared/keying/courses.ts";
import {
  easedBoth,
  laterStop,
  mirrored,
  softerStop,
} from "../../../packages/core/faults/shared/keying/eased-ends.ts";
import { flightWarps } from "../../../packages/core/faults/shared/keying/flight-warp.ts";

function expectRising(warp: Warp, from: number, to: number): void {
  for (let frame = from - 3; frame < to + 3; frame += 0.25) {
    expect(warp(frame + 0.25)).toBeGreaterThanOrEqual(warp(frame) - 1e-9);
  }
}

describe("eased ends", () => {
  test("a later stop runs on at full speed, then slows to rest by as many frames", () => {
    const { from, to, warp } = laterStop(20, 4);
    expect([from, to]).toEqual([16, 24]);
    expectRising(warp, from, to);
    expect(warp(16)).toBe(16);
    expect(warp(23.999)).toBeCloseTo(20, 3);
    expect(warp(16.1) - warp(16)).toBeCloseTo(0.1, 2);
    expect(warp(23.9) - warp(23.8)).toBeLessThan(0.01);
    // Even slowing covers half of the way of full speed.
    expect(warp(20)).toBeCloseTo(16 + 3, 6);
    expect([warp(10), warp(30)]).toEqual([10, 30]);
  });

  test("a softer stop comes to rest when it did", () => {
    const { from, to, warp } = softerStop(10, 30, 6);
    expectRising(warp, from, to);
    expect(warp(29.999)).toBeCloseTo(30, 3);
    expect(warp(29.9) - warp(29.8)).toBeLessThan(0.01);
    expect(warp(10.001)).toBeCloseTo(10, 2);
  });

  test("a start is a stop in the mirror", () => {
    const start = mirrored(laterStop(20, 4), 20);
    expect([start.from, start.to]).toEqual([16, 24]);
    expectRising(start.warp, start.from, start.to);
    expect(start.warp(16.001)).toBeCloseTo(20, 3);
    expect(start.warp(24)).toBe(24);
  });

  test("a move is eased at both ends alike", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.5, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (share, t) => {
          const { warp } = easedBoth(0, 40, share);
          expect(warp(40 * t) + warp(40 - 40 * t)).toBeCloseTo(40, 6);
        },
      ),
    );
  });
});

describe("a flight that takes other frames", () => {
  const flight = { first: 1, takeOff: 40.3, landing: 60.1, last: 100 };

  test.each([-6, -3, 2, 5])("takes %i frames more, and what is around it makes up for them", (longer) => {
    const warps = flightWarps(flight, longer, 24);
    expect(warps.length).toBeGreaterThan(2);
    for (const { from, to, warp } of warps) {
      expectRising(warp, from, to);
      const at = (old: number) => {
        let [low, high] = [from - 40, to + 40];
        for (let i = 0; i < 60; i++) {
          if (warp((low + high) / 2) < old) low = (low + high) / 2;
          else high = (low + high) / 2;
        }
        return low;
      };
      expect(at(flight.landing) - at(flight.takeOff)).toBeCloseTo(19.8 + longer, 0);
      expect(warp(from - 5)).toBe(from - 5);
    }
    // All but the last leave everything else where it is; the last one moves what follows by whole frames.
    for (const { to, warp } of warps.slice(0, -1)) expect(warp(to + 5)).toBe(to + 5);
    const moved = 95 - (warps.at(-1)?.warp(95) ?? 0);
    expect(moved).toBe(Math.round(moved));
    expect(Math.sign(moved)).toBe(Math.sign(longer));
  });
});

test("ramps and bumps have no corner and end where they should", () => {
  expect([ramp(0, 1, 5), ramp(3, 1, 5), ramp(9, 1, 5)]).toEqual([0, 0.5, 1]);
  expect([bump(1, 1, 5, 9), bump(5, 1, 5, 9), bump(9, 1, 5, 9)]).toEqual([0, 1, 0]);
  expect(ramp(1.01, 1, 5)).toBeLessThan(1e-4);
});
