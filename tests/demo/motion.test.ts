import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { demoModule } from "./load.ts";

const { minimumJerk, moves, pathThrough, flightSpeeds, gravity } = await demoModule("motion/moves.mjs");
const { fromAngles, toAngles, rotate, subtract, length } = await demoModule("motion/vector.mjs");
const { reach, footOn } = await demoModule("motion/two-bone.mjs");
const { fitKeys, curveAt } = await demoModule("motion/keys.mjs");
const { trailing } = await demoModule("motion/drag.mjs");
const { footTrack } = await demoModule("motion/gait.mjs");

describe("moves", () => {
  // Flash & Hogan 1985, fifth-order polynomial: exact fractions of the course.
  test.each([
    [0.1, 0.00856],
    [0.25, 53 / 512],
    [0.5, 0.5],
    [0.75, 459 / 512],
  ])("minimum jerk at %f is %f", (tau, share) => {
    expect(minimumJerk(tau)).toBeCloseTo(share, 12);
  });

  test("moves add up to the sum of their travels", () => {
    const track = moves(2, [1, 10, 3], [5, 20, -1]);
    expect(track(0)).toBe(2);
    expect(track(40)).toBeCloseTo(4, 12);
  });

  test("a path keeps the speeds and accelerations of its knots", () => {
    const path = pathThrough(24, [
      { frame: 0, at: 0 },
      { frame: 12, at: 3, speed: 10, acceleration: -gravity },
      { frame: 24, at: 5 },
    ]);
    const h = 1e-3;
    for (const side of [-1, 1]) {
      const step = (path(12 + side * h) - path(12)) / ((side * h) / 24);
      expect(step).toBeCloseTo(10 - (gravity * side * h) / 48, 2);
    }
  });

  // Height of a jump from its air time: h = g · t² / 8, any textbook of mechanics; g by CGPM 1901.
  test("speeds of a flight give the height that its air time gives", () => {
    const { takeOff, landing } = flightSpeeds(0.56, 0, 0);
    expect(landing).toBeCloseTo(-takeOff, 9);
    expect(takeOff ** 2 / (2 * gravity)).toBeCloseTo((980.665 * 0.56 ** 2) / 8, 9);
  });
});

describe("rotations and limbs", () => {
  // Intrinsic sequences by scipy 1.x Rotation.from_euler; x, y, z, w.
  test.each([
    ["xyz", [30, 40, 50], [0.36004217, 0.19662823, 0.46382691, 0.78522072]],
    ["zxy", [40, 50, 30], [0.19662823, 0.46382691, 0.36004217, 0.78522072]],
    ["zyx", [50, 40, 30], [0.30337177, 0.40219849, 0.08080469, 0.86004217]],
  ])("%s as a quaternion", (order, angles, expected) => {
    fromAngles(order, angles).forEach((value: number, i: number) => {
      expect(value).toBeCloseTo(expected[i], 7);
    });
  });

  test("angles come back from the quaternion, near where they were", () => {
    const angle = fc.double({ min: -400, max: 400, noNaN: true });
    const middle = fc.double({ min: -89, max: 89, noNaN: true });
    fc.assert(
      fc.property(
        fc.constantFrom("xyz", "xzy", "yxz", "yzx", "zxy", "zyx"),
        angle,
        middle,
        angle,
        (order, a, b, c) => {
          const angles = [0, 0, 0];
          [a, b, c].forEach((value, n) => {
            angles["xyz".indexOf(order[n])] = value;
          });
          const back = toAngles(order, fromAngles(order, angles), angles);
          back.forEach((value: number, i: number) => {
            expect(value).toBeCloseTo(angles[i], 5);
          });
        },
      ),
    );
  });

  test("a limb's end reaches its target, bending the way it is told", () => {
    const place = fc.double({ min: -30, max: 30, noNaN: true });
    fc.assert(
      fc.property(
        place,
        fc.double({ min: -60, max: -20, noNaN: true }),
        place,
        fc.constantFrom(1, -1),
        (x, y, z, bend) => {
          const limb = {
            start: [0, 0, 0],
            target: [x, y, z],
            pole: [0, 0, bend],
            upper: 43,
            lower: 42,
            bend,
          };
          const { upper, angle } = reach(limb);
          const radians = (angle * Math.PI) / 180;
          const end = rotate(upper, [0, -43 - 42 * Math.cos(radians), -42 * Math.sin(radians)]);
          expect(length(subtract(end, limb.target))).toBeLessThan(1e-6);
          expect(Math.sign(angle)).toBe(bend);
        },
      ),
    );
  });

  test("a foot that rolls keeps its ball, or its heel, where it is", () => {
    const shape = { ankleHeight: 8.5, ball: [0, -6.5, 13], heel: [0, -8.5, -5] };
    for (const [pitch, point, expected] of [
      [35, shape.ball, [0, 2, 13]],
      [-20, shape.heel, [0, 0, -5]],
    ] as const) {
      const { ankle, orientation } = footOn(shape, [0, 0, 0], 0, pitch);
      const at = rotate(orientation, point).map((value: number, i: number) => value + ankle[i]);
      expect(length(subtract(at, expected))).toBeLessThan(1e-9);
    }
  });

  test("a planted foot has one place, and its swing joins both plants", () => {
    const track = footTrack([
      { from: 1, to: 10, at: [0, 0, 0], yaw: 0, push: 30, lift: 5 },
      { from: 20, to: 40, at: [0, 0, 60], yaw: 0, strike: -15 },
    ]);
    for (let f = 1; f <= 10; f++) expect(track(f).place).toEqual([0, 0, 0]);
    for (let f = 20; f <= 40; f++) expect(track(f).place).toEqual([0, 0, 60]);
    expect(track(15).place[1]).toBeCloseTo(5, 9);
    expect(track(10.001).place[2]).toBeLessThan(0.01);
    expect(track(19.999).place[2]).toBeGreaterThan(59.9);
  });
});

describe("drag", () => {
  test("what trails a move lags more the longer its time constant, and settles", () => {
    const carrier = moves(0, [10, 20, 40]);
    const peak = (lag: number) => {
      const trail = trailing(carrier, { from: 1, to: 60, lag, gain: 1 });
      expect(Math.abs(trail(60))).toBeLessThan(0.01);
      let lowest = 0;
      for (let f = 1; f <= 60; f++) lowest = Math.min(lowest, trail(f));
      return lowest;
    };
    expect(peak(1)).toBeLessThan(-1);
    expect(peak(3)).toBeLessThan(peak(1));
  });
});

describe("key fitting", () => {
  const course = fc
    .array(
      fc.tuple(
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 4, max: 25 }),
        fc.double({ min: -40, max: 40, noNaN: true }),
      ),
      {
        minLength: 1,
        maxLength: 5,
      },
    )
    .map((list) => moves(0, ...list.map(([from, long, by]) => [from, from + long, by])));

  test("follows the course within its tolerance, with fewer keys than frames", () => {
    fc.assert(
      fc.property(course, (track) => {
        const keys = fitKeys(track, { from: 1, to: 90, tolerance: 0.2 });
        expect(keys.length).toBeLessThan(90);
        const curve = { node: "n", channel: "rotation.x", interpolation: "bezier", keys };
        for (let f = 1; f <= 90; f++) expect(Math.abs(curveAt(curve, f) - track(f))).toBeLessThan(0.2 + 1e-3);
      }),
    );
  });

  test("stays between its keys, also between frames", () => {
    fc.assert(
      fc.property(course, (track) => {
        const keys = fitKeys(track, { from: 1, to: 90, tolerance: 0.2 });
        const curve = { node: "n", channel: "rotation.x", interpolation: "bezier", keys };
        for (let k = 0; k + 1 < keys.length; k++) {
          const [low, high] = [keys[k].value, keys[k + 1].value].sort((a: number, b: number) => a - b);
          for (let s = 0.1; s < 1; s += 0.1) {
            const value = curveAt(curve, keys[k].frame + s * (keys[k + 1].frame - keys[k].frame));
            expect(value).toBeGreaterThan(low - 1e-9);
            expect(value).toBeLessThan(high + 1e-9);
          }
        }
      }),
    );
  });
});
