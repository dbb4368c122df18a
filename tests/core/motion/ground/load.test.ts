import { describe, expect, test } from "vitest";
import { standardGravity } from "../../../../packages/core/base/constants.ts";
import {
  carriesFrom,
  extensionIn,
  extensionRate,
  loadOf,
  onsetBefore,
} from "../../../../packages/core/motion/ground/load.ts";
import { minimumJerkPosition, minimumJerkSpeed } from "../../../../packages/core/motion/path/minimum-jerk.ts";
import { limbReachOf } from "../../../../packages/core/rig/limb.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { bipedDocument, studyOf } from "../../../support/shots.ts";

describe("load and extension of a limb", () => {
  // A leg that extends by 0.3 m within half a second, from sample 12 to 24 of 24 per second.
  const reach = Float64Array.from({ length: 40 }, (_, i) => 0.5 + 0.3 * minimumJerkPosition((i - 12) / 12));
  const rate = extensionRate(reach, 24);

  test("the rate of extension is the slope of the length", () => {
    // Over five samples a peak of 1.125 m/s is smoothed by a few hundredths.
    for (let i = 0; i < 40; i++) {
      expect(Math.abs(rate[i] - 0.6 * minimumJerkSpeed((i - 12) / 12))).toBeLessThan(0.08);
    }
  });

  test("the onset of an extension is where it begins", () => {
    const extension = extensionIn(rate, 0, 39, 0.2);
    expect(extension?.peak).toBe(18);
    expect(Math.abs((extension?.onset ?? 0) - 12.5)).toBeLessThanOrEqual(1);
    expect(extensionIn(rate, 0, 39, 5)).toBeNull();
    expect(extensionIn(rate, 30, 20, 0.2)).toBeNull();
    expect(extensionIn([], 0, 0, 0.2)).toBeNull();
    expect(onsetBefore([5, 5, 5], 0, 2)).toBe(0);
  });

  test("a contact carries from where the leg gives or the body is held up", () => {
    const stiff = new Float64Array(40);
    const falling = new Float64Array(40).fill(-standardGravity);
    expect(carriesFrom(rate, falling, 5, 39, 0.2)).toBeGreaterThanOrEqual(12);
    expect(carriesFrom(stiff, falling, 5, 39, 0.2)).toBeNull();
    const held = falling.slice().fill(0, 20);
    expect(carriesFrom(stiff, held, 5, 39, 0.2)).toBe(20);
    expect([loadOf(0), loadOf(-standardGravity)]).toEqual([1, 0]);
  });

  test("a leg's reach shortens as it bends: by the law of cosines", () => {
    const study = studyOf(bipedDocument({ "shin_l rotation.x": [[1, 90]] }, { range: [1, 3] }));
    const node = (id: string) => rigOf(study).indexOf.get(id) ?? -1;
    expect([...limbReachOf(study, node("thigh_l"), node("foot_l"))]).toEqual(
      new Array(3).fill(expect.closeTo(0.42 * Math.SQRT2, 9)),
    );
  });

  test.each([0, 1, 2])("%i samples give as many rates, all numbers", (count) => {
    const rates = extensionRate(new Float64Array(count).fill(0.8), 24);
    expect(rates).toHaveLength(count);
    expect(rates.every((value) => Math.abs(value) < 1e-9)).toBe(true);
  });
});
