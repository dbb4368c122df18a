import { describe, expect, test } from "vitest";
import type { Body, Event, Family, Limb, Performance, Poses, Random } from "./types.d.ts";

const load = (path: string) => import(/* @vite-ignore */ new URL(`./${path}`, import.meta.url).href);
const { otherFamilies } = (await load("families/others/index.mjs")) as { otherFamilies: Family[] };
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };
const { densePosesOf } = (await load("poses.mjs")) as { densePosesOf: (performance: Performance) => Poses };

type Kind<K extends Event["kind"]> = Extract<Event, { kind: K }>;
const eventsOf = <K extends Event["kind"]>({ events }: Performance, kind: K) =>
  events.filter((event): event is Kind<K> => event.kind === kind);
const far = (a: readonly number[], b: readonly number[]) => Math.hypot(...a.map((value, k) => value - b[k]));
const bodyOf = (performance: Performance): Body => performance.figures[0].body;
const soleOf = (limb: Limb) => limb.sole!;

/** Ten seeds of each family; lengths from short shots to long ones. */
const shots = otherFamilies.map((family) => ({
  title: `${family.name}, ${family.action}`,
  family,
  made: Array.from({ length: 10 }, (_, n) => {
    const performance = family.make(randomOf(`${family.name} ${family.action} ${n}`), 80 + 16 * n);
    return { performance, poses: densePosesOf(performance) };
  }),
}));

describe.each(shots)("$title", ({ title, family, made }) => {
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

/** Coefficient of the square in the parabola that fits best, from equal steps. */
function curvature(values: readonly number[]): number {
  const middle = (values.length - 1) / 2;
  let [sum2, sum4] = [0, 0];
  values.forEach((_, n) => {
    sum2 += (n - middle) ** 2 / values.length;
    sum4 += (n - middle) ** 4 / values.length;
  });
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const mixed = values.reduce((sum, value, n) => sum + ((n - middle) ** 2 - sum2) * (value - mean), 0);
  return mixed / values.length / (sum4 - sum2 * sum2);
}

describe("flights without wings", () => {
  const flying = shots.flatMap(({ title, made }) =>
    made.flatMap(({ performance, poses }) =>
      performance.medium === "air" && eventsOf(performance, "beat").length === 0
        ? eventsOf(performance, "flight").map((flight) => ({ title, performance, poses, flight }))
        : [],
    ),
  );

  test("are there", () => {
    expect(new Set(flying.map(({ title }) => title)).size).toBeGreaterThanOrEqual(2);
  });

  test("fall with 9.80665 m/s² within 1 %, and go on evenly", () => {
    for (const { title, performance, poses, flight } of flying) {
      const { id } = performance.figures[0];
      const frames = Array.from({ length: flight.to - flight.from + 3 }, (_, n) => flight.from - 1 + n);
      const centres = frames.map((frame) => poses.massCentre(id, frame));
      const fall = 2 * curvature(centres.map(([, y]) => y)) * performance.rate ** 2;
      expect(Math.abs(fall / -9.80665 - 1), title).toBeLessThan(0.01);
      for (const axis of [0, 2]) {
        const drift = 2 * curvature(centres.map((centre) => centre[axis])) * performance.rate ** 2;
        expect(Math.abs(drift), title).toBeLessThan(0.1);
      }
    }
  });
});

describe("gaits", () => {
  /** Strides of a limb between full steps, as frames from landing to landing and how long it stood. */
  const strides = (performance: Performance, limb: number) => {
    const plants = eventsOf(performance, "plant").filter((plant) => plant.limb === limb);
    return plants
      .slice(1, -1)
      .map(({ from, to }, n) => ({ from, stood: to - from, stride: plants[n + 2].from - from }));
  };
  const going = (name: string) =>
    shots.flatMap(({ made }) =>
      made.flatMap(({ performance }) => {
        const gait = eventsOf(performance, "gait").find((event) => event.name === name);
        return gait === undefined ? [] : [{ performance, gait }];
      }),
    );

  // Walking animals stand for more than half of a stride (Hildebrand's definition of a walk); 0.55 to 0.8 is common in
  // dogs and horses (from memory). Trots go down to half. One frame of rounding on each side is allowed for.
  test.each([
    ["walk", 0.55, 0.8],
    ["trot", 0.42, 0.62],
    ["tripod walk", 0.5, 0.75],
    ["walk in fours", 0.5, 0.75],
  ])("%s: duty factors from %d to %d", (name, low, high) => {
    const list = going(name);
    expect(list.length).toBeGreaterThan(4);
    for (const { performance } of list) {
      for (const [limb, { kind }] of bodyOf(performance).limbs.entries()) {
        if (kind !== "leg") continue;
        for (const { stood, stride } of strides(performance, limb)) {
          expect(stood / stride).toBeGreaterThan(low - 1.01 / stride);
          expect(stood / stride).toBeLessThan(high + 1.01 / stride);
        }
      }
    }
  });

  /** When a limb lands after another, as a share of the other's stride. */
  const lag = (performance: Performance, limb: number, other: number) => {
    const shares = strides(performance, other).flatMap(({ from, stride }) =>
      strides(performance, limb).map((one) => (((one.from - from) / stride + 1.5) % 1) - 0.5),
    );
    return shares.length === 0 ? undefined : shares[0];
  };
  const near = (share: number | undefined, wanted: number) =>
    share === undefined ? 0 : Math.abs(((share - wanted + 1.5) % 1) - 0.5);

  test("a walk's feet fall in lateral sequence, a trot's in diagonal pairs", () => {
    // Limbs: left hind, right hind, left fore, right fore. A fore foot lands a quarter after the hind foot of its side.
    for (const { performance } of going("walk")) {
      for (const [fore, hind] of [
        [2, 0],
        [3, 1],
      ]) {
        expect(near(lag(performance, fore, hind), 0.25)).toBeLessThan(0.1);
      }
      expect(near(lag(performance, 1, 0), 0.5)).toBeLessThan(0.1);
    }
    for (const { performance } of going("trot")) {
      expect(near(lag(performance, 3, 0), 0)).toBeLessThan(0.1);
      expect(near(lag(performance, 2, 1), 0)).toBeLessThan(0.1);
      expect(near(lag(performance, 1, 0), 0.5)).toBeLessThan(0.1);
    }
  });

  test("six legs never stand on fewer than three", () => {
    for (const { performance } of [...going("tripod walk"), ...going("walk in fours")]) {
      const plants = eventsOf(performance, "plant");
      const least = performance.figures[0].body.plan === "six legs" ? 3 : 4;
      for (let frame = performance.first; frame <= performance.last; frame++) {
        expect(plants.filter(({ from, to }) => from <= frame && frame <= to).length).toBeGreaterThanOrEqual(
          least,
        );
      }
    }
  });
});

describe("flights of wings", () => {
  /** Strokes of a beat from the shoulder's own turns: the least angle lies at the bottom. Degrees, frames. */
  const beatsOf = (performance: Performance) => {
    const wing = bodyOf(performance).limbs.find(({ kind, side }) => kind === "wing" && side === "left")!;
    const angles = performance.tracks.get(`${wing.joints[0]} rotation.z`)!;
    const at = (frame: number) => angles[frame - performance.first];
    return eventsOf(performance, "beat").map(({ from, top, to }) => ({
      from,
      to,
      down: (at(from) - at(top)) ** 2 / (top - from),
      up: (at(to) - at(top)) ** 2 / (to - top),
    }));
  };

  // Hedrick, Usherwood & Biewener 2004: the upstroke lifts 14 % of the downstroke in slow, 39 % in quick flight.
  test.each([
    ["level flight", 0.39],
    ["take off", 0.14],
    ["land", 0.14],
  ])("%s: the body's acceleration is that of its beats", (action, share) => {
    for (const { made } of shots.filter(({ family }) => family.name === "bird" && family.action === action)) {
      let errors = 0;
      let count = 0;
      for (const { performance, poses } of made) {
        const { rate, first, last, figures } = performance;
        const climb = (frame: number) =>
          ((poses.massCentre(figures[0].id, frame + 1)[1] - poses.massCentre(figures[0].id, frame - 1)[1]) *
            rate) /
          2;
        const beats = beatsOf(performance)
          .filter(({ from, to }) => from > first && to < last)
          .map((beat) => ({
            // Both per second: what the weight and the change of climb ask for, and what the strokes work.
            needed: ((climb(beat.to) - climb(beat.from)) * rate) / (beat.to - beat.from) + 9.80665,
            work: ((beat.down + share * beat.up) * rate ** 2) / (beat.to - beat.from),
          }));
        if (beats.length < 3) continue;
        // One factor for the whole shot; frames cut the turns of a stroke off, by a few per cent at 7 frames per beat.
        const factor =
          beats.reduce((sum, { needed, work }) => sum + needed * work, 0) /
          beats.reduce((sum, { work }) => sum + work * work, 0);
        for (const { needed, work } of beats) {
          errors += ((factor * work - needed) / needed) ** 2;
          count++;
        }
      }
      expect(count).toBeGreaterThan(20);
      expect(Math.sqrt(errors / count)).toBeLessThan(0.13);
    }
  });

  test("the body rises in the downstroke and sinks against its mean way in the upstroke", () => {
    for (const { made } of shots.filter(({ family }) => family.action === "level flight")) {
      for (const { performance, poses } of made) {
        const height = (frame: number) => poses.massCentre(performance.figures[0].id, frame)[1];
        const bend = (frame: number) => height(frame - 1) - 2 * height(frame) + height(frame + 1);
        for (const { from, top, to } of eventsOf(performance, "beat")) {
          if (from <= performance.first + 1 || to >= performance.last - 1) continue;
          expect(bend(Math.round((from + top) / 2))).toBeGreaterThan(bend(Math.round((top + to) / 2)));
        }
      }
    }
  });
});
