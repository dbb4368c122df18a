import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import type { BuiltShot, FaultKind, Place, PlannedFault, Random, ShotPlan, Strength } from "./types.d.ts";

const { plansFor } = (await load("plans.mjs")) as { plansFor: (seed: string, count: number) => ShotPlan[] };
const { build } = (await load("build.mjs")) as {
  build: (plan: ShotPlan, faults?: readonly PlannedFault[]) => BuiltShot;
};
const { stagingFaults } = (await load("faults/staging.mjs")) as { stagingFaults: FaultKind[] };
const { isPresent, isCleanIn } = await load("planting/prove.mjs");
const { randomOf } = (await load("random.mjs")) as { randomOf: (seed: string) => Random };

/** Shots with a camera, each built when it is first asked for. */
const plans = plansFor("faults of the picture", 60);
const built = new Map<ShotPlan, BuiltShot>();
function* twins() {
  for (const plan of plans) {
    if (plan.perform().view === undefined) continue;
    const twin = built.get(plan) ?? build(plan);
    built.set(plan, twin);
    yield { plan, twin };
  }
}

interface Tried {
  readonly plan: ShotPlan;
  readonly twin: BuiltShot;
  readonly place: Place;
  readonly faulty: readonly {
    readonly fault: PlannedFault;
    readonly built: BuiltShot;
    readonly share: number;
  }[];
}

describe.each(stagingFaults.map((kind) => [kind.name, kind] as const))("%s", (_, kind) => {
  const tried: Tried[] = [];
  for (const { plan, twin } of twins()) {
    const places = kind.places(twin.keyed, randomOf(`${plan.seed} ${kind.name}`));
    for (const place of places.slice(0, 1)) {
      const planned = (strength: Strength): PlannedFault => ({ kind, strength, place, seed: plan.seed });
      if (!isCleanIn(planned(0), twin.poses)) continue;
      const faulty = ([0, 1, 2] as const).map((strength) => {
        const fault = planned(strength);
        const built = build(plan, [fault]);
        const share = kind.measure(built.poses, place, twin.poses) / kind.sizes[strength].value;
        return { fault, built, share };
      });
      tried.push({ plan, twin, place, faulty });
    }
    if (tried.length >= 3) break;
  }

  test("has rising sizes, each with its reason", () => {
    const [barely, ordinary, strong] = kind.sizes.map(({ value }) => value);
    expect(0 < barely! && barely! < ordinary! && ordinary! < strong!).toBe(true);
    for (const { reason } of kind.sizes) expect(reason).toMatch(/^[A-Z0-9].{15,}[^.]\.$/);
  });

  test("is there where it was put, by its own measure, and grows with its size", () => {
    expect(tried.length).toBeGreaterThan(0);
    const all = tried.flatMap(({ faulty, twin }) =>
      faulty.map(({ fault, built }) => [fault, built, twin] as const),
    );
    const proven = all.filter(([fault, built, twin]) => isPresent(fault, built.poses, twin.poses));
    expect(proven.length / all.length).toBeGreaterThanOrEqual(0.9);
    for (const { faulty } of tried) {
      const sizes = faulty.map(({ share }, n) => share * kind.sizes[n]!.value);
      expect(sizes[0]).toBeLessThan(sizes[2]!);
    }
  });

  test("stays within its shot, and leaves other figures alone", () => {
    for (const { place, faulty, twin } of tried) {
      const { first, last, figures } = twin.keyed.performance;
      expect(place.from).toBeGreaterThanOrEqual(first);
      expect(place.to).toBeLessThanOrEqual(last);
      expect(place.to).toBeGreaterThan(place.from);
      for (const { id, body } of figures) {
        if (id === place.figure) continue;
        const own = new Set(body.joints.map((joint) => joint.id));
        for (const [name, curve] of faulty[2]!.built.keyed.curves) {
          if (own.has(curve.joint)) expect(curve).toEqual(twin.keyed.curves.get(name));
        }
      }
    }
  });

  test("has no place in a shot that nobody looks at", () => {
    const bare = plansFor("faults of the picture", 12).filter((plan) => plan.perform().view === undefined);
    expect(bare.length).toBeGreaterThan(0);
    for (const plan of bare) expect(kind.places(build(plan).keyed, randomOf(plan.seed))).toEqual([]);
  });
});
