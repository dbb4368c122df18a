import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import { type CleanShot, cleanShotOf, cleanShots, placesOf, strayed } from "./faults-for-tests.ts";
import type { Event, Family, FaultKind, KeyedShot, Performance, Place, Poses, Random } from "./types.d.ts";

const { causeFaults } = (await load("faults/causes.mjs")) as { causeFaults: FaultKind[] };
const { faultKinds } = (await load("faults/index.mjs")) as { faultKinds: FaultKind[] };
const { allFamilies } = (await load("plans.mjs")) as { allFamilies: readonly Family[] };
const { presentFrom, twinUpTo } = await load("planting/prove.mjs");
const { contactPoints } = await load("faults/tools/limbs.mjs");
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

const shots = cleanShots("cause and effect");
const dense = { stage: "dense", spacing: 1, interpolation: "linear", offset: 0 } as const;
const kindOf = (name: string) => faultKinds.find((kind) => kind.name === name)!;

/** Clean shots of an action, from several seeds. */
const shotsOf = (action: string, count: number): CleanShot[] =>
  Array.from({ length: count }, (_, n) => {
    const seed = `${action} ${n}`;
    const family = allFamilies.find((one) => one.action === action)!;
    return cleanShotOf(family.make(randomOf(seed), 130), seed, dense);
  });

const eventsOf = <K extends Event["kind"]>({ events }: Performance, kind: K) =>
  events.filter((event): event is Extract<Event, { kind: K }> => event.kind === kind);

test("the eight kinds of cause and effect are planted, each of the check of its name", () => {
  const names = [
    ...["no-anticipation", "no-settle", "late-reach", "mirrored-steps"],
    ...["short-pose", "straight-set", "frozen-end", "quick-top"],
  ];
  for (const name of names) expect(kindOf(name.replaceAll("-", " ")).checks[0]).toBe(name);
});

describe.each(causeFaults.map((kind) => [kind.name, kind] as const))("%s", (_, kind) => {
  const tried = placesOf(kind, shots, 1)
    .slice(0, 8)
    .map(({ clean, place }) => ({
      clean,
      place,
      quiet: kind.measure(clean.twin, place, clean.twin),
      faulty: kind.sizes.map(({ value }) => {
        const made = clean.with(kind, place, value);
        return { ...made, measured: kind.measure(made.poses, place, clean.twin) };
      }),
    }));

  test("has rising sizes with reasons, and places within the shot on joints of the figure", () => {
    const [barely, ordinary, strong] = kind.sizes.map(({ value }) => value);
    expect(0 < barely! && barely! < ordinary! && ordinary! < strong!).toBe(true);
    for (const { reason } of kind.sizes) expect(reason).toMatch(/^[A-Z0-9].*[^.]\.$/);
    expect(tried.length).toBeGreaterThan(1);
    for (const { clean, place } of tried) {
      expect(place.from).toBeGreaterThanOrEqual(clean.performance.first);
      expect(place.to).toBeLessThanOrEqual(clean.performance.last);
      const { body } = clean.performance.figures.find(({ id }) => id === place.figure)!;
      const ids = body.joints.map(({ id }) => id);
      for (const joint of [place.joint, ...(place.also ?? [])]) expect(ids).toContain(joint);
    }
  });

  test("is proven where it was put, as large as planned, and not in the twin", () => {
    for (const { quiet } of tried) expect(quiet).toBeLessThanOrEqual(twinUpTo * kind.sizes[0].value);
    const all = tried.flatMap(({ faulty }) =>
      faulty.map(({ measured }, n) => measured / kind.sizes[n]!.value),
    );
    expect(all.filter((share) => share >= presentFrom).length / all.length).toBeGreaterThanOrEqual(0.9);
    const middle = [...all].sort((a, b) => a - b)[all.length >> 1];
    expect(middle).toBeGreaterThan(0.85);
    expect(middle).toBeLessThan(1.25);
  });

  test("grows with its size, keeps the ends that stand, and leaves other figures alone", () => {
    for (const { clean, place, faulty } of tried) {
      expect(faulty[0]!.measured).toBeLessThan(faulty[2]!.measured);
      const freed = (place.freed as number[] | undefined) ?? [];
      if (clean.shot.style.stage !== "blocked")
        expect(strayed(clean, faulty[2]!.poses, freed, place.figure), clean.seed).toBeLessThan(0.005);
      for (const { id, body } of clean.performance.figures) {
        if (id === place.figure) continue;
        const own = new Set(body.joints.map((joint) => joint.id));
        for (const [name, track] of faulty[2]!.performance.tracks) {
          if (own.has(name.split(" ")[0]!)) expect(track).toEqual(clean.performance.tracks.get(name));
        }
      }
    }
  });

  test("finds the same places for the same seed", () => {
    const [once, again] = [0, 1].map(() => placesOf(kind, shots.slice(0, 3), 2).map(({ place }) => place));
    expect(again).toEqual(once);
  });
});

describe("what is seen of it", () => {
  const firstOf = (name: string, action: string) => {
    const kind = kindOf(name);
    for (const clean of shotsOf(action, 4)) {
      const place = kind.places(clean.shot, randomOf(clean.seed))[0];
      if (place !== undefined)
        return { clean, place, strong: clean.with(kind, place, kind.sizes[2].value).poses };
    }
    throw new Error(`no place for ${name} in ${action}`);
  };
  const lowest = (poses: Poses, { figure }: Place, from: number, to: number) =>
    Math.min(...Array.from({ length: to - from + 1 }, (_, i) => poses.massCentre(figure, from + i)[1]));

  test("a jump without anticipation leaves as high, as quick and on the same frame as the clean one", () => {
    const { clean, place, strong } = firstOf("no anticipation", "jump");
    for (const frame of [place.to, place.to + 1, place.to + 3]) {
      const [a, b] = [strong, clean.twin].map((poses) => poses.massCentre(place.figure, frame)[1]);
      expect(a).toBeCloseTo(b!, 2);
    }
    const start = clean.twin.massCentre(place.figure, place.from)[1];
    const [now, usual] = [strong, clean.twin].map(
      (poses) => start - lowest(poses, place, place.from, place.to),
    );
    expect(now!).toBeLessThan(0.2 * usual!);
  });

  test("a landing without give flies and touches down as the clean one, and ends as it ends", () => {
    const { clean, place, strong } = firstOf("no settle", "jump");
    for (const frame of [place.from - 4, place.from, place.to + 2]) {
      const [a, b] = [strong, clean.twin].map((poses) => poses.massCentre(place.figure, frame)[1]);
      expect(a).toBeCloseTo(b!, 2);
    }
  });

  test("a late reach is at its contact on the frame of the clean one", () => {
    const { clean, place, strong } = firstOf("late reach", "push a cart");
    const [a, b] = [strong, clean.twin].map((poses) => poses.position(place.joint, place.to));
    expect(Math.hypot(...a!.map((value, k) => value - b![k]!))).toBeLessThan(0.004);
  });

  test("a straight set still turns its head as far", () => {
    const { clean, place, strong } = firstOf("straight set", "look round");
    const { head } = clean.performance.figures[0]!.body;
    const yaws = (poses: Poses) => {
      const all = Array.from({ length: poses.count }, (_, i) => {
        const [x, y, z, w] = poses.orientation(head!, poses.first + i);
        return Math.atan2(2 * (x * z + w * y), 1 - 2 * (x * x + y * y));
      });
      return Math.max(...all) - Math.min(...all);
    };
    expect(place.from).toBe(clean.performance.first);
    expect(yaws(strong) / yaws(clean.twin)).toBeGreaterThan(0.9);
  });
});

describe("clean twins are clean of these", () => {
  const jumps = ["jump", "jump off a ledge", "react", "leap"].flatMap((action) => shotsOf(action, 3));

  test("each jump from a stand has its crouch, by a thirtieth of the stature at least", () => {
    let seen = 0;
    for (const { performance, twin } of jumps) {
      for (const { figure, from } of eventsOf(performance, "push")) {
        const { stature } = performance.figures.find(({ id }) => id === figure)!.body;
        const before = Math.max(performance.first, from - Math.round(0.7 * performance.rate));
        const top = Math.max(
          ...Array.from({ length: from - before + 1 }, (_, i) => twin.massCentre(figure, before + i)[1]),
        );
        expect(top - twin.massCentre(figure, from)[1]).toBeGreaterThan(stature / 30);
        seen++;
      }
    }
    expect(seen).toBeGreaterThan(8);
  });

  test("each landing gives, and takes at least an eighth of a second for it", () => {
    for (const { performance, twin } of jumps) {
      for (const { figure, at, low } of eventsOf(performance, "landing")) {
        if (low > performance.last) continue;
        const { stature } = performance.figures.find(({ id }) => id === figure)!.body;
        const give = twin.massCentre(figure, at)[1] - twin.massCentre(figure, low)[1];
        expect(give).toBeGreaterThan(0.025 * stature);
        expect(low - at).toBeGreaterThanOrEqual(0.12 * performance.rate);
      }
    }
  });

  test("the two feet of a jump neither leave nor land on one frame", () => {
    let seen = 0;
    for (const { performance, twin } of jumps) {
      for (const { figure, from, to } of eventsOf(performance, "flight")) {
        const { body } = performance.figures.find(({ id }) => id === figure)!;
        const plants = eventsOf(performance, "plant").filter((plant) => plant.figure === figure);
        for (const girdle of new Set(body.limbs.map((limb) => limb.girdle))) {
          const own = plants.filter(({ limb }) => body.limbs[limb]!.girdle === girdle);
          const left = own.filter((plant) => plant.to < to && plant.to > from - 12).map((plant) => plant.to);
          const landed = own
            .filter((plant) => plant.from > from && plant.from < to + 12)
            .map((plant) => plant.from);
          for (const frames of [left, landed]) {
            if (frames.length !== 2) continue;
            expect(Math.abs(frames[0]! - frames[1]!)).toBeGreaterThan(0);
            seen++;
          }
        }
      }
      // What stands stands: the foot that leaves first does not drag.
      for (const { figure, limb, from, to } of eventsOf(performance, "plant")) {
        const { body } = performance.figures.find(({ id }) => id === figure)!;
        for (let frame = from; frame <= to; frame++) {
          for (const [, y] of contactPoints(twin, body.limbs[limb]!, frame))
            expect(y).toBeGreaterThan(-0.01 * body.stature);
        }
      }
    }
    expect(seen).toBeGreaterThan(12);
  });

  test("no clean shot ends frozen", () => {
    const frozen = kindOf("frozen end");
    const still = shots.filter(({ shot, performance, twin }: { shot: KeyedShot } & CleanShot) => {
      if (shot.style.stage === "blocked") return false;
      return performance.figures.some(({ id, body }) => {
        const { last } = performance;
        // All joints, over the last six frames at 24 per second.
        const span = Math.round((6 * performance.rate) / 24);
        return (
          body.joints.every(({ id: joint }) => {
            const end = twin.position(joint, last);
            return Array.from({ length: span }, (_, i) => twin.position(joint, last - 1 - i)).every(
              (at) => Math.hypot(...at.map((value, k) => value - end[k]!)) < 1e-5 * body.stature,
            );
          }) && id !== ""
        );
      });
    });
    expect(still.map(({ seed }) => seed)).toEqual([]);
    expect(frozen.sizes[0].value).toBe(6);
  });
});
