import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import { cleanShotOf, cleanShots, placesOf, strayed } from "./faults-for-tests.ts";
import type { Family, FaultKind, Performance, Random } from "./types.d.ts";

const motion = await load("motion/index.mjs");
const { multiply } = await load("../../../demo/motion/vector.mjs");
const { twoLegFamilies } = (await load("families/two-legs/index.mjs")) as { twoLegFamilies: Family[] };
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

const { weightFaults } = (await load("faults/weight.mjs")) as { weightFaults: FaultKind[] };
const { feetFaults } = (await load("faults/feet.mjs")) as { feetFaults: FaultKind[] };
const { propFaults } = (await load("faults/props.mjs")) as { propFaults: FaultKind[] };
const { partsFaults } = (await load("faults/parts.mjs")) as { partsFaults: FaultKind[] };
const { presentFrom, twinUpTo } = await load("planting/prove.mjs");
const kinds = [...weightFaults, ...feetFaults, ...partsFaults, ...propFaults];

const shots = cleanShots("faults of the body");
/** No family turns a foot aside in its roll, or closes its fingers about a thing: these have tests of their own. */
const withoutPlaces = ["one-axis roll", "still fingers"];

describe("faults of weight, feet, parts and props", () => {
  test("have names of their own, rising sizes and a reason in one sentence for each", () => {
    expect(new Set(kinds.map(({ name }) => name)).size).toBe(kinds.length);
    for (const { sizes, unit, checks, layer } of kinds) {
      expect(unit).not.toBe("");
      expect(Array.isArray(checks)).toBe(true);
      expect(layer).toBe("motion");
      expect(sizes[0].value).toBeGreaterThan(0);
      expect(sizes[1].value).toBeGreaterThan(sizes[0].value);
      expect(sizes[2].value).toBeGreaterThan(sizes[1].value);
      for (const { reason } of sizes) expect(reason).toMatch(/^[A-Z0-9].*[^.]\.$/);
    }
  });

  test("find the same places for the same seed", () => {
    for (const kind of kinds) {
      const [first, again] = [0, 1].map(() => placesOf(kind, shots.slice(0, 4), 2).map(({ place }) => place));
      expect(again).toEqual(first);
    }
  });
});

describe.each(
  kinds.filter(({ name }) => !withoutPlaces.includes(name)).map((kind) => [kind.name, kind] as const),
)("%s", (_, kind) => {
  const tried = placesOf(kind, shots, 1)
    .slice(0, 10)
    .map(({ clean, place }) => ({
      clean,
      place,
      quiet: kind.measure(clean.twin, place, clean.twin),
      faulty: kind.sizes.map(({ value }) => {
        const made = clean.with(kind, place, value);
        return { ...made, measured: kind.measure(made.poses, place, clean.twin) };
      }),
    }));

  test("has places in several shots", () => {
    expect(tried.length).toBeGreaterThan(0);
    for (const { clean, place } of tried) {
      expect(place.from).toBeGreaterThanOrEqual(clean.performance.first);
      expect(place.to).toBeLessThanOrEqual(clean.performance.last);
      expect(place.from).toBeLessThan(place.to);
      const props = clean.performance.props.map(({ id }) => id);
      const known = [
        ...clean.performance.figures.flatMap(({ body }) => body.joints.map(({ id }) => id)),
        ...props,
      ];
      for (const joint of [place.joint, ...(place.also ?? [])]) expect(known).toContain(joint);
    }
  });

  test("is proven where it was put, and not in the twin", () => {
    const clean = tried.filter(({ quiet }) => quiet <= twinUpTo * kind.sizes[0].value);
    expect(clean.length).toBe(tried.length);
    const all = tried.flatMap(({ faulty }) =>
      faulty.map(({ measured }, n) => measured / kind.sizes[n].value),
    );
    const proven = all.filter((share) => share >= presentFrom).length;
    expect(proven / all.length).toBeGreaterThanOrEqual(0.9);
    // It is as large as it was planned, and not just there.
    const middle = [...all].sort((a, b) => a - b)[all.length >> 1];
    expect(middle).toBeGreaterThan(0.85);
    expect(middle).toBeLessThan(1.25);
  });

  test("grows with its size", () => {
    // Shares of whole frames may be the same for two neighbouring sizes.
    const rising = tried.filter(
      ({ faulty: [barely, ordinary, strong] }) =>
        barely.measured <= ordinary.measured &&
        ordinary.measured <= strong.measured &&
        barely.measured < strong.measured,
    );
    expect(rising.length / tried.length).toBeGreaterThanOrEqual(0.9);
  });

  test("leaves other figures alone", () => {
    for (const { clean, place, faulty } of tried) {
      for (const { id, body } of clean.performance.figures) {
        if (id === place.figure) continue;
        const own = new Set(body.joints.map((joint) => joint.id));
        for (const [name, track] of faulty[2].performance.tracks) {
          if (own.has(name.split(" ")[0])) expect(track).toEqual(clean.performance.tracks.get(name));
        }
      }
    }
  });

  test("keeps the ends that stand, but for those that it is about", () => {
    for (const { clean, place, faulty } of tried) {
      if (clean.shot.style.stage === "blocked") continue;
      const freed = (place.freed as number[] | undefined) ?? [];
      expect(strayed(clean, faulty[2].poses, freed, place.figure), clean.seed).toBeLessThan(0.005);
    }
  });
});

test("parts that stiffen do so within the frames of their fault", () => {
  for (const name of ["no drag", "still wrist"]) {
    const kind = kinds.find((one) => one.name === name)!;
    const tried = placesOf(kind, shots, 2);
    expect(tried.length).toBeGreaterThan(0);
    for (const { clean, place } of tried) {
      const { first, tracks } = clean.performance as Performance;
      const { performance } = clean.with(kind, place, 1);
      for (const [joint, track] of performance.tracks) {
        track.forEach((value: number, i: number) => {
          if (value !== tracks.get(joint)?.[i]) {
            expect(first + i).toBeGreaterThanOrEqual(place.from);
            expect(first + i).toBeLessThanOrEqual(place.to);
          }
        });
      }
    }
  }
});

describe("kinds for which no family has a place yet", () => {
  const twoLegs = (action: string, seed: string) => {
    const family = twoLegFamilies.find((one) => one.action === action)!;
    return family.make(randomOf(seed), 140);
  };
  const proven = (name: string, performance: Performance) => {
    const kind = kinds.find((one) => one.name === name)!;
    const clean = cleanShotOf(performance, name, {
      stage: "dense",
      spacing: 1,
      interpolation: "linear",
      offset: 0,
    });
    const places = kind.places(clean.shot, randomOf(name));
    expect(places.length).toBeGreaterThan(0);
    for (const place of places) {
      expect(kind.measure(clean.twin, place, clean.twin)).toBeLessThan(twinUpTo * kind.sizes[0].value);
      for (const { value } of kind.sizes) {
        const { poses } = clean.with(kind, place, value);
        const share = kind.measure(poses, place, clean.twin) / value;
        expect(share).toBeGreaterThan(presentFrom);
        expect(share).toBeLessThan(1.3);
      }
    }
  };

  test("one-axis roll: a foot that turns outward as it rolls loses the turn", () => {
    const performance = twoLegs("walk in, turn, walk out", "one-axis");
    const usual: Performance = motion.copy(performance);
    const { id, body } = performance.figures[0];
    for (const plant of performance.events) {
      if (plant.kind !== "plant" || !plant.rolls) continue;
      const { joints, side } = body.limbs[plant.limb];
      const [from, to] = [plant.from + Math.round(0.4 * (plant.to - plant.from)), plant.to + 5];
      motion.resolve(performance, usual, id, plant.limb, from, to, (frame: number) => {
        const foot = motion.worldAt(usual, joints[2], frame);
        const share =
          motion.eased((frame - from) / (plant.to - from)) * (1 - motion.eased((frame - plant.to) / 5));
        const half = ((side === "left" ? 14 : -14) * share * Math.PI) / 360;
        return {
          ...foot,
          quaternion: multiply([0, Math.sin(half), 0, Math.cos(half)], [...foot.quaternion]),
        };
      });
    }
    proven("one-axis roll", performance);
  });

  test("still fingers: a hand that closes stays open", () => {
    const seeds = Array.from({ length: 12 }, (_, n) => `grip ${n}`);
    const made = seeds.map((seed) => twoLegs("carry a crate", seed));
    const performance = made.find(({ figures }) => figures[0].body.limbs.some(({ fingers }) => fingers))!;
    const hold = performance.events.find((event) => event.kind === "hold-prop")!;
    const { limbs } = performance.figures[0].body;
    for (const joint of limbs.flatMap(({ fingers }) => fingers ?? []).flat()) {
      const closed = (frame: number) => 25 * motion.eased((frame - hold.from + 6) / 10);
      motion.addTrack(performance, joint, "rotation.z", closed);
    }
    proven("still fingers", performance);
  });
});
