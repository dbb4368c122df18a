import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readBvh } from "../../packages/adapters/bvh/index.ts";
import { standardGravity } from "../../packages/core/base/constants.ts";
import { medianOf } from "../../packages/core/base/median.ts";
import type { Study } from "../../packages/core/base/study.ts";
import { registry } from "../../packages/core/faults/registry.ts";
import { type Flight, flightsOf } from "../../packages/core/motion/body/flight.ts";
import { bodyContactAt, contactsOf, groundOf } from "../../packages/core/motion/ground/contact.ts";
import { statureOf } from "../../packages/core/rig/body.ts";
import { resolveSettings } from "../../packages/core/settings/resolve.ts";
import { studyOf } from "../../packages/core/settings/study.ts";
import { gridOf } from "../../packages/core/time/grid.ts";

/** Real capture (mocap.cs.cmu.edu, subject 1, and a boxer), from the Debian package assimp-testmodels. */
const models = "/usr/share/assimp/models/BVH";
/** One unit of the CMU recordings: (1/0.45) inch, says their FAQ. */
const cmuUnit = 0.0254 / 0.45;

function capture(file: string, rate: number, metresPerUnit?: number): Study {
  const text = readFileSync(`${models}/${file}`, "utf8");
  const { shot } = readBvh(text, metresPerUnit === undefined ? {} : { metresPerUnit });
  if (shot === null) throw new Error(`${file} cannot be read`);
  return studyOf(shot, { ...resolveSettings(registry, {}, {}), rate });
}

const gravities = (flights: readonly Flight[]) => flights.map(({ gravity }) => gravity);
const near = (flights: readonly Flight[], share: number) =>
  gravities(flights).filter((gravity) => Math.abs(gravity / standardGravity - 1) < share).length;

describe("ten forward jumps, recorded (CMU 01_01)", () => {
  test("all ten are found at 120 Hz, and fall with the Earth's gravity", () => {
    const flights = flightsOf(capture("01_01.bvh", 120, cmuUnit), 0);
    expect(flights).toHaveLength(10);
    expect(Math.abs(medianOf(gravities(flights)) / standardGravity - 1)).toBeLessThan(0.03);
    expect(near(flights, 0.06)).toBeGreaterThanOrEqual(8);
  });

  test("all ten are found as they are seen at 24 frames per second", () => {
    const flights = flightsOf(capture("01_01.bvh", 24, cmuUnit), 0);
    expect(flights).toHaveLength(10);
    expect(Math.abs(medianOf(gravities(flights)) / standardGravity - 1)).toBeLessThan(0.05);
    expect(near(flights, 0.12)).toBeGreaterThanOrEqual(8);
  });

  test.each([24, 120])("at %i Hz they are jumps as people jump, with a take-off and a landing", (rate) => {
    const study = capture("01_01.bvh", rate, cmuUnit);
    const supported = bodyContactAt(study, 0);
    for (const flight of flightsOf(study, 0)) {
      expect([flight.startsOnGround, flight.endsOnGround]).toEqual([true, true]);
      expect(flight.takeOff).toBeLessThan(flight.from);
      expect(flight.landing).toBeGreaterThan(flight.to);
      // Elite standing jumps rise by 0.6 to 0.9 m (from memory); a hop by a few centimetres.
      expect(flight.rise).toBeGreaterThan(0.05);
      expect(flight.rise).toBeLessThan(0.6);
      // The height that the air time says is the rise, but for a landing that is crouched.
      expect((standardGravity * flight.airTime ** 2) / 8).toBeGreaterThan(0.8 * flight.rise);
      expect((standardGravity * flight.airTime ** 2) / 8).toBeLessThan(1.5 * flight.rise);
      expect(flight.residual).toBeLessThan(0.01);
      for (let i = flight.from; i <= flight.to; i++) expect(supported[i]).toBe(0);
    }
  });

  test("with the unit inferred from stature they are found as well", () => {
    expect(flightsOf(capture("01_01.bvh", 24), 0)).toHaveLength(10);
  });
});

describe("motion that never leaves the ground", () => {
  // 01_03 walks and climbs on a frame; the boxer shifts and steps.
  test.each([
    ["01_03.bvh", 24, cmuUnit],
    ["01_03.bvh", 120, cmuUnit],
    ["Boxing_Toes.bvh", 24, undefined],
    ["Boxing_Toes.bvh", 100, undefined],
  ])("%s at %i Hz has no flights", (file, rate, unit) => {
    expect(flightsOf(capture(file, rate, unit), 0)).toEqual([]);
  });

  test.each([24, 100])("the boxer at %i Hz always stands on a foot that is near the ground", (rate) => {
    const study = capture("Boxing_Toes.bvh", rate);
    const supported = bodyContactAt(study, 0);
    const without = supported.filter((value) => value === 0).length;
    expect(without / supported.length).toBeLessThan(0.01);
    expect(Math.abs(groundOf(study).height)).toBeLessThan(0.05 * statureOf(study, 0));
  });

  test("walking steps last as long as steps do", () => {
    const study = capture("01_03.bvh", 24, cmuUnit);
    const { rate } = gridOf(study);
    // The first stretch of the recording is a plain walk of about three seconds.
    const steps = contactsOf(study, 0).filter(
      ({ from, to, point }) => point === "toe" && from > 1 && to < 80,
    );
    expect(steps.length).toBeGreaterThanOrEqual(3);
    for (const { from, to } of steps) {
      const seconds = (to - from + 1) / rate;
      // FootPlant is about 60 % of a cycle (Kirtley 1985: 59 to 62 %) of 1 to 1.33 s at 90 to 120 steps per minute.
      expect(seconds).toBeGreaterThan(0.5);
      expect(seconds).toBeLessThan(1.1);
    }
  });
});
