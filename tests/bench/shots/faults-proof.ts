/** What the tests of fault kinds share: clean shots, and what a kind does to them. */
import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import type {
  Family,
  FaultKind,
  KeyedCurve,
  KeyedShot,
  KeyingStyle,
  Place,
  Poses,
  Random,
} from "./types.d.ts";

const { allFamilies } = await load("plans.mjs");
const { keyed, keyedAfter } = await load("keying/index.mjs");
const { copy } = await load("motion/index.mjs");
const { posesOf } = await load("poses.mjs");
const { copyOf } = await load("faults/tools/curve.mjs");
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

export interface CleanShot {
  readonly name: string;
  readonly seed: string;
  readonly shot: KeyedShot;
  readonly twin: Poses;
  /** How it was keyed, for keying it again with a fault of motion. */
  readonly keying: unknown;
}

/** Ways of keying, so that a few shots show all of them. */
const styles: KeyingStyle[] = [
  { stage: "splined", spacing: 6, interpolation: "bezier", offset: 1 },
  { stage: "splined", spacing: 10, interpolation: "smooth", offset: 2 },
  { stage: "dense", spacing: 1, interpolation: "linear", offset: 0 },
  { stage: "blocked", spacing: 10, interpolation: "step", offset: 0 },
];

/** Short clean shots of a seed, of families (all, or those of a name) and ways of keying in turn. */
export function cleanShots(seed: string, count: number, name?: string): CleanShot[] {
  const families = (allFamilies as Family[]).filter((family) => name === undefined || family.name === name);
  const order = randomOf(seed).shuffled(families);
  return Array.from({ length: count }, (_, n) => {
    const family = order[n % order.length];
    const own = `${seed}/${n} ${family.name}`;
    // Three of four are splined: most faults are made there.
    const style = styles[n % 6 === 5 ? 3 : n % 6 === 2 ? 2 : n % 2];
    const keying = keyed(family.make(randomOf(own), 110), style, randomOf(`${own}/keys`));
    const { shot } = keying;
    return { name: own, seed: own, shot, twin: posesOf(shot), keying };
  });
}

/** A place of a kind in a clean shot, and the shot with the fault in each of its three sizes. */
export interface Tried {
  readonly clean: CleanShot;
  readonly place: Place;
  /** Measure in the twin, as a share of the barely seen size. */
  readonly inTwin: number;
  /** Measures in the faulty shots, as shares of what was planned. */
  readonly shares: readonly number[];
  readonly faulty: readonly KeyedShot[];
}

export function withFault(clean: CleanShot, kind: FaultKind, place: Place, size: number, seed: string) {
  if (kind.perform !== undefined) {
    const performance = copy(clean.shot.performance);
    kind.perform(performance, place, size, randomOf(seed));
    return keyedAfter(performance, clean.keying).shot as KeyedShot;
  }
  const curves = [...clean.shot.curves].map(([name, curve]): [string, KeyedCurve] => [name, copyOf(curve)]);
  const shot: KeyedShot = { ...clean.shot, curves: new Map(curves) };
  kind.edit?.(shot, place, size, randomOf(seed));
  return shot;
}

/** The first places of a kind in each shot, with all sizes. */
export function triedIn(shots: readonly CleanShot[], kind: FaultKind, most = 2): Tried[] {
  return shots.flatMap((clean) => {
    const places = kind.places(clean.shot, randomOf(`${clean.seed}/${kind.name}`));
    return places.slice(0, most).map((place) => {
      const faulty = kind.sizes.map(({ value }, strength) =>
        withFault(clean, kind, place, value, `${clean.seed}/${strength}`),
      );
      const shares = faulty.map(
        (shot, strength) => kind.measure(posesOf(shot), place, clean.twin) / kind.sizes[strength].value,
      );
      const inTwin = kind.measure(clean.twin, place, clean.twin) / kind.sizes[0].value;
      return { clean, place, inTwin, shares, faulty };
    });
  });
}

/** Share of the tried places and sizes that planting can prove. */
export function provenShare(tried: readonly Tried[]): number {
  const proven = tried.flatMap(({ inTwin, shares }) => shares.map((share) => share >= 0.75 && inTwin <= 0.5));
  return proven.filter(Boolean).length / proven.length;
}

/** What is wrong with a faulty shot as a shot: keys out of order, values that are no numbers, curves of others changed. */
export function troubleIn({ clean, place, faulty }: Tried): string[] {
  const figure = clean.shot.performance.figures.find(({ id }) => id === place.figure);
  const own = new Set(figure?.body.joints.map(({ id }) => id));
  return faulty.flatMap((shot) =>
    [...shot.curves].flatMap(([name, curve]) => {
      const inOrder = curve.keys.every((key, i) => i === 0 || key.frame > curve.keys[i - 1].frame);
      const areNumbers = curve.keys.every(({ value, in: before, out }) =>
        [value, ...(before ?? []), ...(out ?? [])].every(Number.isFinite),
      );
      const isForeign = !own.has(curve.joint);
      const before = clean.shot.curves.get(name);
      const isTouched = isForeign && JSON.stringify(curve) !== JSON.stringify(before);
      const said = [!inOrder && "order", !areNumbers && "numbers", isTouched && "another figure's"];
      return said.filter(Boolean).map((what) => `${clean.name} ${name}: ${what}`);
    }),
  );
}

/** Tests that every kind of fault has to pass. `rare`: kinds that a handful of shots may have no place for. */
export function describeKinds(kinds: readonly FaultKind[], shots: readonly CleanShot[], rare: string[] = []) {
  describe.each(kinds.map((kind) => ({ kind, name: kind.name })))("$name", ({ kind, name }) => {
    const tried = triedIn(shots, kind);

    test("says how large it is in three rising sizes, each with its reason in a sentence", () => {
      const [barely, ordinary, strong] = kind.sizes.map(({ value }) => value);
      expect(barely).toBeGreaterThan(0);
      expect(ordinary).toBeGreaterThan(barely);
      expect(strong).toBeGreaterThan(ordinary);
      for (const { reason } of kind.sizes) expect(reason).toMatch(/^[A-Z0-9].{15,}\.$/);
      expect(kind.checks.length).toBeGreaterThan(0);
      expect(kind.unit.length).toBeGreaterThan(5);
    });

    // Rare kinds may find no place in the few shots of this test.
    if (!rare.includes(name)) {
      test("has places", () => {
        expect(tried.length).toBeGreaterThan(0);
      });
    }

    test("stays within the shot, on joints of its figure", () => {
      for (const { clean, place } of tried) {
        const { first, last, figures } = clean.shot.performance;
        expect(place.from).toBeGreaterThanOrEqual(first);
        expect(place.to).toBeLessThanOrEqual(last);
        expect(place.to).toBeGreaterThanOrEqual(place.from);
        const ids = figures.find(({ id }) => id === place.figure)?.body.joints.map(({ id }) => id);
        for (const joint of [place.joint, ...(place.also ?? [])]) expect(ids).toContain(joint);
      }
    });

    test("is there by its own measure, and not in the twin, at nearly all places", () => {
      if (tried.length > 0) expect(provenShare(tried)).toBeGreaterThanOrEqual(0.95);
    });

    test("is about as large as planned, and grows from size to size", () => {
      for (const { shares } of tried) {
        const sizes = shares.map((share, strength) => share * kind.sizes[strength].value);
        expect(sizes[1]).toBeGreaterThan(sizes[0]);
        expect(sizes[2]).toBeGreaterThan(sizes[1]);
        for (const share of shares) expect(share).toBeLessThan(1.6);
      }
    });

    test("leaves a sound shot, and curves of other figures alone", () => {
      expect(tried.flatMap(troubleIn)).toEqual([]);
    });

    test("is the same for the same seed", () => {
      for (const { clean, place, faulty } of tried.slice(0, 2)) {
        const again = withFault(clean, kind, place, kind.sizes[2].value, `${clean.seed}/2`);
        expect([...again.curves]).toEqual([...faulty[2].curves]);
      }
    });
  });
}
