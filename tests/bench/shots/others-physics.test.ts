import { describe, expect, test } from "vitest";
import { bodyOf, eventsOf, otherFamilies, shotsOf } from "./others-shots.ts";
import type { Performance } from "./types.d.ts";

const shots = shotsOf(otherFamilies.filter(({ name, action }) => name !== "no legs" || action === "hop"));

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

describe("swimming", () => {
  const swimming = shots.filter(({ family }) => family.name === "fish");

  test("steady beats have a Strouhal number of about 0.3", () => {
    // 0.2 to 0.4 in fish and whales (Triantafyllou, Triantafyllou & Grosenbaugh 1993, from memory): beats per second, times
    // the way of the tail's tip from side to side, through the speed. Turns and bursts spread it, so that the middle counts.
    const numbers = swimming.flatMap(({ made }) =>
      made.flatMap(({ performance, poses }) => {
        const { limbs, root } = bodyOf(performance);
        const tail = limbs.findIndex(({ kind }) => kind === "tail");
        const tip = limbs[tail].joints.at(-1)!;
        return eventsOf(performance, "beat")
          .filter((beat) => beat.limbs.includes(tail))
          .map(({ from, to }) => {
            const [a, b] = [poses.position(root, from), poses.position(root, to)];
            const way = Math.hypot(b[0] - a[0], b[2] - a[2]);
            const [x, z] = [(b[0] - a[0]) / way, (b[2] - a[2]) / way];
            const sides = Array.from({ length: to - from + 1 }, (_, n) => {
              const at = poses.position(tip, from + n);
              return (at[0] - a[0]) * z - (at[2] - a[2]) * x;
            });
            return (Math.max(...sides) - Math.min(...sides)) / way;
          });
      }),
    );
    expect(numbers.length).toBeGreaterThan(20);
    const middle = numbers.toSorted((a, b) => a - b)[numbers.length >> 1];
    expect(middle).toBeGreaterThan(0.2);
    expect(middle).toBeLessThan(0.45);
  });

  test("knows no fall: a fish that hovers keeps its height", () => {
    for (const { made } of swimming.filter(({ family }) => family.action === "hover and dart")) {
      for (const { performance, poses } of made) {
        expect(performance.medium).toBe("water");
        const { id, body } = performance.figures[0];
        const dart = eventsOf(performance, "move").find(({ name }) => name === "dart")!.from;
        const heights = Array.from(
          { length: dart - performance.first },
          (_, n) => poses.massCentre(id, performance.first + n)[1],
        );
        expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(0.15 * body.stature);
      }
    }
  });
});
