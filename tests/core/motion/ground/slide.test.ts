import { describe, expect, test } from "vitest";
import { farthestApart, soleTravel } from "../../../../packages/core/motion/ground/slide.ts";

const up = [0, 1, 0] as const;
const run = { from: 2, to: 22 };

/** Paths of two points 14 cm apart that turn by an angle (radians) about a point between them and slide along x. */
function ends(share: number, angle: number, way: number): [Float64Array, Float64Array] {
  const [heel, ball] = [new Float64Array(75), new Float64Array(75)];
  for (let i = 0; i < 25; i++) {
    const t = Math.min(1, Math.max(0, (i - 5) / 12));
    const [sine, cosine] = [Math.sin(angle * t), Math.cos(angle * t)];
    heel.set([way * t - 0.14 * share * sine, 0, -0.14 * share * cosine], 3 * i);
    ball.set([way * t + 0.14 * (1 - share) * sine, 0, 0.14 * (1 - share) * cosine], 3 * i);
  }
  return [heel, ball];
}

describe("travel of a sole", () => {
  test.each([0, 0.3, 0.5, 0.8, 1])(
    "is nothing where it turns about a point between its ends (%d)",
    (share) => {
      const [heel, ball] = ends(share, 0.6, 0);
      expect(soleTravel(heel, ball, () => true, run, up).travel).toBeLessThan(1e-3);
      expect(soleTravel(ball, heel, () => true, run, up).travel).toBeLessThan(1e-3);
    },
  );

  test("is the slide where it slides, with the samples between which it does", () => {
    const [heel, ball] = ends(0.5, 0, 0.05);
    const travel = soleTravel(heel, ball, () => true, run, up);
    expect(travel.travel).toBeCloseTo(0.05, 6);
    expect(travel.between).toEqual({ from: 5, to: 17 });
  });

  test("leaves out a landing's settling of 3 mm that lies long before the slide", () => {
    const path = new Float64Array(75);
    for (let i = 0; i < 25; i++) {
      path[3 * i] = (i > 3 ? 0.003 : 0) + 0.06 * Math.min(1, Math.max(0, (i - 14) / 6));
    }
    const travel = farthestApart(path, { from: 2, to: 24 }, up);
    expect(travel.travel).toBeCloseTo(0.063, 6);
    expect(travel.apart.from).toBeLessThan(4);
    expect(travel.between).toEqual({ from: 14, to: 20 });
  });

  test("is the end's own while the other one is up", () => {
    const [heel, ball] = ends(1, 0.6, 0);
    const own = soleTravel(heel, ball, () => false, run, up).travel;
    expect(own).toBeCloseTo(2 * 0.14 * Math.sin(0.3), 6);
  });
});
