import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Shot } from "../../../../packages/core/document/model.ts";
import { shotOf } from "../../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { holdingDocument, swing } from "../../../../packages/core/faults/props/shared/held-motions.ts";
import { eased } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { slipBetween } from "../../../../packages/core/motion/parts/grip-slip.ts";
import { gripsOf, heldByBoth } from "../../../../packages/core/motion/parts/grips.ts";
import { propsOf } from "../../../../packages/core/rig/props.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { defaultSettings } from "../../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";

/** Who holds what, and when: declared, or found from motion. */

const studied = (document: CurveDocument) => studyOf(shotOf(document).shot as Shot, defaultSettings([]));

/** Grips by names and frames (the range starts at 1). */
function gripsIn(document: CurveDocument) {
  const study = studied(document);
  const { ids } = rigOf(study);
  return gripsOf(study).map(({ hand, thing, from, to, declared }) => ({
    hand: ids[hand],
    thing: ids[thing],
    frames: [from + 1, to + 1],
    declared,
  }));
}

/** A cup that the left hand carries between two frames, and that rests before and after. */
const carried = (from: number, to: number, more: Partial<Parameters<typeof holdingDocument>[2]> = {}) =>
  holdingDocument(swing, [1, 60], {
    node: "cup",
    path: (frame, hand) => hand.point(Math.min(to, Math.max(from, frame)), [0.08, -0.04, 0]),
    ...more,
  });

describe("who holds what", () => {
  test("is found where a thing goes with a hand, from when it is taken to when it is left", () => {
    const [grip, ...others] = gripsIn(carried(18, 34));
    expect(others).toEqual([]);
    expect(grip).toMatchObject({ hand: "hand_l", thing: "cup", declared: false });
    expect(grip.frames[0]).toBeGreaterThanOrEqual(15);
    expect(grip.frames[0]).toBeLessThanOrEqual(18);
    expect(grip.frames[1]).toBeGreaterThanOrEqual(34);
    expect(grip.frames[1]).toBeLessThanOrEqual(37);
  });

  test("is as the document says, which stands for all that is found", () => {
    const heldBy = [{ node: "hand_l", frames: [20, 30] as [number, number] }];
    expect(gripsIn(carried(18, 34, { prop: { heldBy } }))).toEqual([
      { hand: "hand_l", thing: "cup", frames: [20, 30], declared: true },
    ]);
  });

  test("goes on while a thing slips, and ends where it is thrown", () => {
    const slipping = holdingDocument(swing, [1, 60], {
      node: "cup",
      path: (frame, hand) => hand.point(frame, [0.08 + eased(20, 34, 0, 0.06)(frame), -0.04, 0]),
    });
    expect(gripsIn(slipping)).toMatchObject([{ frames: [1, 60] }]);
    const thrown = holdingDocument(swing, [1, 60], {
      node: "cup",
      path: (frame, hand) => {
        const [x, y, z] = hand.point(Math.min(frame, 28), [0.08, -0.04, 0]);
        const time = Math.max(0, frame - 28) / 24;
        return [x, y + 2 * time - 4.903325 * time * time, z + 3 * time];
      },
    });
    const [grip] = gripsIn(thrown);
    expect(grip.frames[1]).toBeLessThanOrEqual(30);
    expect(grip.frames[1]).toBeGreaterThanOrEqual(27);
  });

  test("is nobody where a thing lies beside a hand that rests, and never a node that carries a camera", () => {
    expect(gripsIn(carried(1, 1))).toEqual([]);
    const filmed = carried(1, 60);
    filmed.props = undefined;
    filmed.cameras = [{ id: "seen", node: "cup", verticalFieldOfView: 30 }];
    expect(propsOf(studied(filmed))).toEqual([]);
    expect(gripsIn(filmed)).toEqual([]);
  });

  test("is both hands only where both hold", () => {
    const study = studied(carried(18, 34));
    const { indexOf } = rigOf(study);
    const [left, right] = ["hand_l", "hand_r"].map((id) => indexOf.get(id) as number);
    expect(heldByBoth(study, left, right)).toEqual(new Uint8Array(60));
  });
});

describe("how far a thing slips", () => {
  const number = fc.double({ min: -1, max: 1, noNaN: true });
  const vector = fc.tuple(number, number, number);
  const turn = fc.tuple(number, number, number, fc.double({ min: 0.1, max: 1, noNaN: true })).map((q) => {
    const length = Math.hypot(...q);
    return q.map((part) => part / length);
  });
  const world = (places: number[][], turns: number[][]) => ({
    position: Float64Array.from(places.flat()),
    orientation: Float64Array.from(turns.flat()),
    linear: null,
    still: false,
  });
  const turned = ([x, y, z, w]: number[], [a, b, c]: number[]) => {
    const [tx, ty, tz] = [2 * (y * c - z * b), 2 * (z * a - x * c), 2 * (x * b - y * a)];
    return [a + w * tx + y * tz - z * ty, b + w * ty + z * tx - x * tz, c + w * tz + x * ty - y * tx];
  };
  const plus = (a: number[], b: number[]) => a.map((part, k) => part + b[k]);

  test("is nothing where hand and thing go as one, however they go", () => {
    fc.assert(
      fc.property(vector, vector, vector, turn, vector, (hand, offset, way, q, tip) => {
        const still = [0, 0, 0, 1];
        const now = plus(hand, way);
        const holding = world([hand, now], [still, q]);
        const held = world([plus(hand, offset), plus(now, turned(q, offset))], [still, q]);
        expect(slipBetween(holding, held, tip, 0, 1)).toBeLessThan(1e-9);
      }),
    );
  });

  test("is nothing where the hand pivots about its finger tips on a thing that does not turn", () => {
    fc.assert(
      fc.property(vector, vector, turn, vector, (hand, offset, q, tip) => {
        const still = [0, 0, 0, 1];
        const tips = plus(hand, tip);
        const now = plus(
          tips,
          turned(q, tip).map((part) => -part),
        );
        const held = plus(hand, offset);
        expect(
          slipBetween(world([hand, now], [still, q]), world([held, held], [still, still]), tip, 0, 1),
        ).toBeLessThan(1e-9);
      }),
    );
  });

  test("is the whole way where nothing turns", () => {
    fc.assert(
      fc.property(vector, vector, vector, vector, (hand, offset, way, tip) => {
        const still = [0, 0, 0, 1];
        const held = plus(hand, offset);
        const slip = slipBetween(
          world([hand, hand], [still, still]),
          world([held, plus(held, way)], [still, still]),
          tip,
          0,
          1,
        );
        expect(Math.abs(slip - Math.hypot(...way))).toBeLessThan(1e-9);
      }),
    );
  });
});
