import { describe, expect, test } from "vitest";
import { load, smallPerformance } from "./bodies-for-tests.ts";
import type { Family, ShotPlan } from "./types.d.ts";

const { build } = await load("build.mjs");
const { plansFor } = await load("plans.mjs");

describe("plans", () => {
  const family = (name: string, weight: number): Family => ({
    name,
    weight,
    make: (random, frames) => smallPerformance(random, frames),
  });
  const families = [family("walker", 3), family("sitter", 1)];

  test("are the same for a seed, however many are asked for", () => {
    const [few, many]: ShotPlan[][] = [plansFor("x", 3, families), plansFor("x", 9, families)];
    for (const [n, plan] of few.entries()) {
      expect([plan.name, plan.seed, plan.style, plan.body]).toEqual([
        many[n].name,
        many[n].seed,
        many[n].style,
        many[n].body,
      ]);
    }
    expect(build(few[0]).text).toBe(build(many[0]).text);
    expect(plansFor("y", 3, families).map(({ style }: ShotPlan) => style)).not.toEqual(
      few.map(({ style }) => style),
    );
  });

  test("spread stages and families evenly, also over few shots", () => {
    for (const seed of ["one", "two", "three"]) {
      const plans: ShotPlan[] = plansFor(seed, 40, families);
      const count = (list: ShotPlan[], is: (plan: ShotPlan) => boolean) => list.filter(is).length;
      for (let from = 0; from < 40; from += 10) {
        const ten = plans.slice(from, from + 10);
        expect(count(ten, ({ style }) => style.stage === "splined")).toBe(6);
        expect(count(ten, ({ style }) => style.stage === "blocked")).toBe(2);
        expect(count(ten, ({ style }) => style.stage === "dense")).toBe(2);
        // Three of four by weight; steps of the golden ratio are never far from it.
        expect(Math.abs(count(ten, ({ body }) => body === "walker") - 7.5)).toBeLessThan(1.6);
      }
    }
    const orders = ["one", "two", "three"].map((seed) =>
      plansFor(seed, 10, families).map((p: ShotPlan) => p.style.stage),
    );
    expect(new Set(orders.map(String)).size).toBeGreaterThan(1);
  });

  test("draw spacings and lengths within their bounds", () => {
    const plans: ShotPlan[] = plansFor("shares", 400, families);
    for (const { style } of plans) {
      if (style.stage === "splined") expect(style.spacing >= 3 && style.spacing <= 14).toBe(true);
    }
    expect(new Set(plans.map(({ name }) => name)).size).toBe(400);
    for (const plan of plans.slice(0, 5)) {
      const { first, last } = plan.perform();
      expect(last - first + 1).toBeGreaterThanOrEqual(80);
      expect(last - first + 1).toBeLessThanOrEqual(400);
    }
  });

  test("make a performance anew, so that nobody changes another's", () => {
    const [plan]: ShotPlan[] = plansFor("x", 1, families);
    const [one, other] = [plan.perform(), plan.perform()];
    expect(one.tracks).toEqual(other.tracks);
    one.tracks.get("hips translation.y")?.fill(9);
    expect(other.tracks.get("hips translation.y")?.[0]).not.toBe(9);
  });
});
