import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { load, smallBody } from "../bodies-for-tests.ts";
import type { Performance } from "../types.d.ts";

const motion = await load("motion/index.mjs");
const { densePosesOf } = await load("poses.mjs");
const { randomOf } = await load("random.mjs");
const { minimumJerk, eased } = motion;

describe("eased moves", () => {
  // Flash & Hogan 1985: x = 10τ³ − 15τ⁴ + 6τ⁵, its speed peaks at 1.875 of the mean in the middle.
  test.each([
    [0.1, 0.00856],
    [0.25, 53 / 512],
    [0.5, 0.5],
    [0.75, 459 / 512],
  ])("have gone %d of their time: %d of their way", (tau, share) => {
    expect(eased(tau)).toBeCloseTo(share, 12);
  });

  test("are 1.875 times as quick as on average at their peak", () => {
    const h = 1e-5;
    expect((eased(0.5 + h) - eased(0.5 - h)) / (2 * h)).toBeCloseTo(1.875, 6);
    expect(minimumJerk(0.5)).toBe(0.5);
  });

  test("have done half of their way when they are told, and start and end at rest, without a jolt", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.3, max: 0.7, noNaN: true }), (half) => {
        expect(eased(half, half)).toBeCloseTo(0.5, 9);
        expect([eased(-1, half), eased(0, half), eased(1, half), eased(2, half)]).toEqual([0, 0, 1, 1]);
        const h = 1e-3;
        expect(eased(h, half) / h).toBeLessThan(0.01);
        expect((1 - eased(1 - h, half)) / h).toBeLessThan(0.01);
        let before = 0;
        for (let tau = 0; tau <= 1; tau += 0.01) {
          expect(eased(tau, half)).toBeGreaterThanOrEqual(before);
          before = eased(tau, half);
        }
      }),
    );
  });

  test("of a gesture overlap as told, add up and leave an event", () => {
    const performance = still(60);
    const event = motion.addGesture(performance, {
      name: "nod",
      figure: "a",
      from: 10,
      to: 20,
      parts: [
        { joint: "head", channel: "rotation.x", by: 20 },
        { joint: "chest", channel: "rotation.x", by: 8, offset: -3, frames: 16 },
      ],
    });
    motion.addGesture(performance, {
      name: "back",
      figure: "a",
      from: 15,
      to: 30,
      parts: [{ joint: "head", channel: "rotation.x", by: -20 }],
    });
    expect(event).toEqual({ from: 7, peak: 15, to: 23 });
    expect(performance.events[0]).toMatchObject({ kind: "move", joints: ["head", "chest"], from: 7, to: 23 });
    const head = motion.trackOf(performance, "head", "rotation.x");
    expect([head[9], head[14], head[29]]).toEqual([0, 10, expect.closeTo(0, 9)]);
    expect(head[17]).toBeCloseTo(20 * minimumJerk(0.8) - 20 * minimumJerk(0.2), 9);
  });

  test("of holds and breath stay small, and begin and end at nothing", () => {
    const performance = still(200);
    motion.addMovingHold(performance, {
      figure: "a",
      parts: [{ joint: "chest", channel: "rotation.z", by: 0.3 }],
      from: 50,
      to: 150,
      random: randomOf("hold"),
    });
    const track: Float64Array = motion.trackOf(performance, "chest", "rotation.z");
    expect(Math.max(...track.map(Math.abs))).toBeLessThanOrEqual(0.3);
    expect(Math.max(...track.subarray(60, 140))).toBeGreaterThan(0.05);
    expect([...track.subarray(0, 50), ...track.subarray(150)].every((value) => value === 0)).toBe(true);
    motion.addBreath(performance, {
      parts: [{ joint: "spine", channel: "rotation.x", by: -1 }],
      random: randomOf("breath"),
    });
    const breath: Float64Array = motion.trackOf(performance, "spine", "rotation.x");
    expect(Math.min(...breath)).toBeGreaterThanOrEqual(-1.2);
    expect(Math.min(...breath)).toBeLessThan(-0.7);
  });
});

describe("flights", () => {
  // A drop from rest, d = g/2 · (n/fps)², g = 9.80665 m/s² exactly (CGPM 1901); in centimetres, by frames.
  test.each([
    [24, [0.85, 3.41, 7.66, 13.62, 21.28, 30.65, undefined, 54.48, undefined, 85.13, undefined, 122.58]],
    [25, [0.78, 3.14, 7.06, 12.55, 19.61, 28.24, undefined, 50.21, undefined, 78.45, undefined, 112.97]],
    [30, [0.54, 2.18, 4.9, 8.72, 13.62, 19.61, undefined, 34.87, undefined, 54.48, undefined, 78.45]],
  ])("fall at %d frames per second as free bodies do", (rate, table) => {
    const drop = (9.80665 / 2) * (12 / rate) ** 2;
    const course = motion.flightCourse(rate, 100, 112, [0, 2, 0], [0.6, 2 - drop, 0]);
    expect(course.velocity(100)[1]).toBeCloseTo(0, 12);
    table.forEach((fall, n) => {
      if (fall !== undefined) expect(100 * (2 - course.at(101 + n)[1])).toBeCloseTo(fall, 2);
    });
    expect(course.at(106)[0]).toBeCloseTo(0.3, 12);
  });

  // t = √(8h/g).
  test.each([
    [0.1, 0.2856],
    [0.3, 0.4947],
    [0.45, 0.6059],
    [0.6, 0.6996],
    [1, 0.9032],
  ])("that rise by %d m take %d s", (height, time) => {
    expect(motion.flightTime(height)).toBeCloseTo(time, 4);
    const frames = motion.flightTime(height) * 24;
    const course = motion.flightCourse(24, 0, frames, [0, 1, 0], [0, 1, 0]);
    expect(course.at(course.apex)[1]).toBeCloseTo(1 + height, 9);
  });

  test("carry the centre of mass whatever the limbs do", () => {
    const performance = still(40);
    for (const joint of ["thigh_l", "upper_arm_r", "chest"]) {
      motion.setTrack(performance, joint, "rotation.x", (frame: number) => 40 * Math.sin(0.3 * frame));
    }
    motion.addFlight(performance, "a", 10, 22, [0.2, 0.95, 0.9]);
    const poses = densePosesOf(performance);
    const step = 9.80665 / 24 ** 2;
    for (let frame = 11; frame <= 21; frame++) {
      const [a, b, c] = [-1, 0, 1].map((by) => poses.massCentre("a", frame + by));
      expect(a[1] - 2 * b[1] + c[1]).toBeCloseTo(-step, 9);
      expect(a[2] - 2 * b[2] + c[2]).toBeCloseTo(0, 9);
    }
    expect(performance.events).toContainEqual({ kind: "flight", figure: "a", from: 11, to: 21 });
  });
});

function still(frames: number): Performance {
  return motion.emptyPerformance({ rate: 24, frames, figures: [{ id: "a", body: smallBody() }] });
}
