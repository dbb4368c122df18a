import { describe, expect, test } from "vitest";
import { bodyOf, eventsOf, far, otherFamilies, randomOf, shotsOf, soleOf } from "./others-shots.ts";

describe.each(shotsOf(otherFamilies))("$title", ({ title, family, made }) => {
  test("is as long as it was asked to be, the same for a seed and another for each", () => {
    const make = (seed: string) => family.make(randomOf(seed), 100);
    const [one, again, other] = [make("a"), make("a"), make("b")];
    expect(one.last - one.first + 1).toBe(100);
    expect(again.tracks).toEqual(one.tracks);
    expect(again.events).toEqual(one.events);
    expect(other.tracks).not.toEqual(one.tracks);
  });

  test("has masses that add up to 1", () => {
    for (const { performance } of made) {
      const { masses, joints } = bodyOf(performance);
      expect(Object.values(masses).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
      expect(Object.keys(masses).every((id) => joints.some((joint) => joint.id === id))).toBe(true);
    }
  });

  test("has tracks of its own joints, finite and without jumps", () => {
    for (const { performance } of made) {
      const ids = new Set(bodyOf(performance).joints.map(({ id }) => id));
      for (const [name, values] of performance.tracks) {
        expect(ids).toContain(name.split(" ")[0]);
        expect(values.every(Number.isFinite)).toBe(true);
        if (!name.includes("rotation")) continue;
        // A quarter of a turn within a frame is a jump (a racehorse's leg, the quickest here, swings by a tenth of it).
        const step = Math.max(...values.subarray(1).map((value, n) => Math.abs(value - values[n])));
        expect(step, `${title}: ${name}`).toBeLessThan(90);
      }
      for (const name of performance.solved) expect(performance.tracks.has(name)).toBe(true);
    }
  });

  test("holds planted ends within 0.15 % of the body's size", () => {
    for (const { performance, poses } of made) {
      const body = bodyOf(performance);
      for (const { limb, from, to } of eventsOf(performance, "plant")) {
        const { tip, toe } = soleOf(body.limbs[limb]);
        const start = poses.point(tip, toe, from);
        for (let frame = from; frame <= to; frame++) {
          const slip = far(poses.point(tip, toe, frame), start) / body.stature;
          expect(slip, `${body.limbs[limb].joints[0]} on frame ${frame}`).toBeLessThan(0.0015);
        }
        expect(start[1]).toBeCloseTo(performance.ground.height, 6);
      }
    }
  });

  test("has nothing under the ground", () => {
    for (const { performance, poses } of made) {
      const { joints, limbs, stature } = bodyOf(performance);
      const floor = performance.ground.height - 0.0015 * stature;
      for (let frame = performance.first; frame <= performance.last; frame++) {
        for (const { id } of joints)
          expect(poses.position(id, frame)[1], `${id}, ${frame}`).toBeGreaterThan(floor);
        for (const { sole } of limbs) {
          if (sole === undefined) continue;
          expect(poses.point(sole.foot, sole.heel, frame)[1]).toBeGreaterThan(floor);
          expect(poses.point(sole.tip, sole.toe, frame)[1]).toBeGreaterThan(floor);
        }
      }
    }
  });

  test("tells of what happens, in frames of the shot", () => {
    for (const { performance } of made) {
      expect(performance.events.length).toBeGreaterThan(0);
      for (const event of performance.events) {
        const frames = Object.entries(event).filter(([key]) =>
          ["from", "peak", "top", "to", "at", "low"].includes(key),
        );
        for (const [, frame] of frames) {
          expect(Number.isInteger(frame)).toBe(true);
          expect(frame).toBeGreaterThanOrEqual(performance.first);
          expect(frame).toBeLessThanOrEqual(performance.last);
        }
        const order = frames.map(([, frame]) => frame as number);
        expect(order, `${title}: ${JSON.stringify(event)}`).toEqual(order.toSorted((a, b) => a - b));
      }
    }
  });
});
