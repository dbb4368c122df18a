import { describe, expect, test } from "vitest";
import { load } from "./bodies-for-tests.ts";
import { cleanShots, describeKinds, triedIn } from "./faults-proof.ts";
import type { FaultKind, Joint, Poses, Vector } from "./types.d.ts";

const { spacingFaults } = (await load("faults/spacing.mjs")) as { spacingFaults: FaultKind[] };
const { posesOf } = await load("poses.mjs");
const { channelsOf } = await load("faults/tools/local.mjs");
const { stepsAt } = await load("faults/tools/moves.mjs");
const kindOf = (name: string) => spacingFaults.find((kind) => kind.name === name)!;

const shots = [...cleanShots("spacing", 5), ...cleanShots("walks", 5, "two legs")];
const apart = (a: readonly number[], b: readonly number[]) =>
  Math.hypot(...a.map((value, k) => value - b[k]));

describeKinds(spacingFaults, shots, [
  "same frame",
  "frozen hold",
  "over-speed",
  "hitch of the body",
  "hard stop of the body",
]);

describe("what is seen of it", () => {
  test("a pop takes the end of the limb aside on its frame by as much as planned, in the world, and on no other", () => {
    for (const { clean, place, faulty } of triedIn(shots, kindOf("pop"))) {
      const poses: Poses = posesOf(faulty[1]);
      const { chain, end } = place["lever"] as { chain: Joint[]; end: Vector };
      const { id } = chain[chain.length - 1];
      const off = [-1, 0, 1].map((by) =>
        apart(poses.point(id, end, place.from + by), clean.twin.point(id, end, place.from + by)),
      );
      expect(off[1]).toBeCloseTo(0.015 * (place["stature"] as number), 4);
      expect(off[0]).toBeLessThan(1e-6);
      expect(off[2]).toBeLessThan(1e-6);
    }
  });

  test("a frozen end leaves every joint of the figure where it is", () => {
    for (const { place, faulty, clean } of triedIn(shots, kindOf("frozen end"))) {
      const poses: Poses = posesOf(faulty[0]);
      const figure = clean.shot.performance.figures.find(({ id }) => id === place.figure)!;
      const span = Math.round((6 * clean.shot.performance.rate) / 24);
      for (const { id } of figure.body.joints) {
        const last = poses.position(id, place.to);
        for (let frame = place.to - span; frame < place.to; frame++) {
          expect(apart(poses.position(id, frame), last)).toBeLessThan(1e-6);
        }
      }
    }
  });

  test("a move without an ease still goes its way", () => {
    const tried = triedIn(shots, kindOf("even spacing"));
    expect(tried.length).toBeGreaterThan(0);
    for (const { clean, place, faulty } of tried) {
      const [poses, twin] = [channelsOf(faulty[2]), channelsOf(clean.shot)];
      const steps = stepsAt(poses, twin, place, place["start"], place["end"]) as number[];
      const travel = steps.reduce((sum, step) => sum + step, 0);
      expect(travel).toBeGreaterThan(0.035 * (place["stature"] as number));
    }
  });

  test("after a hard stop and its wait the part goes on as it did", () => {
    for (const { clean, place, faulty } of triedIn(shots, kindOf("hard stop"))) {
      const poses: Poses = posesOf(faulty[2]);
      const { stature } = clean.shot.performance.figures.find(({ id }) => id === place.figure)!.body;
      for (let frame = place.to + 1; frame < poses.first + poses.count; frame++) {
        const off = apart(poses.position(place.joint, frame), clean.twin.position(place.joint, frame));
        // Under this nothing is seen: a pixel or two of a full figure in a 1080-line picture (computed). A smooth curve
        // takes a little of a changed key into the frame behind it.
        expect(off).toBeLessThan(1.5e-3 * stature);
      }
    }
  });
});

describe("faults of the body over its feet", () => {
  test("leave planted feet where they are", () => {
    for (const kind of spacingFaults.filter(({ layer }) => layer === "motion")) {
      for (const { clean, place, faulty } of triedIn(shots, kind)) {
        const { figures, events } = clean.shot.performance;
        const { limbs, stature } = figures.find(({ id }) => id === place.figure)!.body;
        const poses: Poses = posesOf(faulty[2]);
        for (const event of events) {
          if (event.kind !== "plant" || event.figure !== place.figure) continue;
          const foot = limbs[event.limb].sole?.foot;
          if (foot === undefined) continue;
          for (let frame = Math.max(event.from, place.from); frame <= Math.min(event.to, place.to); frame++) {
            const off = apart(poses.position(foot, frame), clean.twin.position(foot, frame));
            expect(off).toBeLessThan(0.004 * stature);
          }
        }
      }
    }
  });
});

describe("faults that overlap", () => {
  test("a fault of what carries a limb changes nothing in the measure of the limb's own", () => {
    const pop = kindOf("pop");
    for (const clean of shots) {
      const places = triedIn([clean], pop, 12);
      const arm = places.find(({ place }) => /arm|hand/.test(place.joint));
      if (arm === undefined) continue;
      const carrier = places.find(
        ({ place }) => place.also?.includes(arm.place.joint) && place.joint !== arm.place.joint,
      );
      if (carrier === undefined) continue;
      const both = { ...arm.faulty[1], curves: new Map(arm.faulty[1].curves) };
      for (const [name, curve] of carrier.faulty[2].curves) {
        if (curve.joint === carrier.place.joint) both.curves.set(name, curve);
      }
      expect(pop.measure(posesOf(both), arm.place, clean.twin) / pop.sizes[1].value).toBeCloseTo(
        arm.shares[1],
        9,
      );
    }
  });
});
