import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { angleBetween } from "../../../../packages/core/base/quaternion.ts";
import { holdsOf, movesOf, restFloorOf, turnsOf } from "../../../../packages/core/motion/path/moves.ts";
import { chordOf } from "../../../../packages/core/motion/path/path.ts";
import { turnsOfOrientations } from "../../../../packages/core/motion/path/rotation.ts";
import {
  accelerationOf,
  angularSpeedOf,
  localAngularSpeedOf,
  spacingOf,
  speedOf,
  velocityOf,
} from "../../../../packages/core/motion/path/spacing.ts";
import { worldOf } from "../../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../../packages/core/time/grid.ts";
import {
  chainDocument,
  documentOf,
  eased,
  everyFrame,
  type Keys,
  pathDocument,
  pointDocument,
  studyOf,
} from "../../../support/shots.ts";

describe("spacing of a node", () => {
  test("is in metres per judged frame, whatever the unit of the document", () => {
    for (const unit of [1, 0.01, 2.54]) {
      const study = studyOf(pathDocument(0, 24, (frame) => [0.05 * frame, 1, 0], { unit }));
      spacingOf(study, 0).forEach((step, i) => {
        expect(step).toBeCloseTo(i === 0 ? 0 : 0.05, 9);
      });
      for (const speed of speedOf(study, 0)) expect(speed).toBeCloseTo(1.2, 9);
      expect(accelerationOf(study, 0).every((value) => Math.abs(value) < 1e-6)).toBe(true);
    }
  });

  test("sums to the arc length of the sampled path", () => {
    const value = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(value, value), { minLength: 1, maxLength: 8 }), (values) => {
        const keys = (axis: 0 | 1) => values.map((pair, i): Keys[number] => [5 * i, pair[axis]]);
        const study = studyOf(pointDocument({ "translation.x": keys(0), "translation.z": keys(1) }));
        const { count } = gridOf(study);
        const sum = spacingOf(study, 0).reduce((total, step) => total + step, 0);
        expect(sum).toBeCloseTo(chordOf(worldOf(study, 0).position, 0, count - 1).arc, 9);
      }),
      { numRuns: 50 },
    );
  });

  test("the same motion has the same speed at any judged rate", () => {
    const document = pathDocument(0, 120, (frame) => [Math.sin(frame / 60), 1, 0], { rate: 120 });
    const [fine, coarse] = [120, 24].map((rate) => studyOf(document, {}, { rate }));
    const speeds = speedOf(coarse, 0);
    expect(speeds).toHaveLength(25);
    for (let i = 1; i < 24; i++) expect(Math.abs(speeds[i] - speedOf(fine, 0)[5 * i])).toBeLessThan(0.02);
    expect(restFloorOf(coarse, 0) / restFloorOf(fine, 0)).toBeCloseTo(5, 9);
  });

  test.each([1, 2])("%i samples", (count) => {
    const study = studyOf(pathDocument(1, count, (frame) => [frame, 0, 0]));
    expect([...spacingOf(study, 0)]).toEqual([0, 1].slice(0, count));
    expect([...velocityOf(study, 0), ...accelerationOf(study, 0)].every(Number.isFinite)).toBe(true);
    expect([...angularSpeedOf(study, 0)]).toEqual([0, 0].slice(0, count));
  });
});

describe("turning of a node", () => {
  test("in the world it has its parent's turn too, against its parent its own", () => {
    const turn = (speed: number) => everyFrame(0, 24, (frame) => speed * frame);
    const study = studyOf(chainDocument(2, { "joint_1 rotation.z": turn(5), "joint_2 rotation.z": turn(3) }));
    const node = rigOf(study).indexOf.get("joint_2") ?? -1;
    for (let i = 1; i < 24; i++) {
      expect(angularSpeedOf(study, node)[i]).toBeCloseTo((8 * 24 * Math.PI) / 180, 9);
      expect(localAngularSpeedOf(study, node)[i]).toBeCloseTo((3 * 24 * Math.PI) / 180, 9);
    }
  });

  test("the angle between two orientations (published pair: 37.98374923°)", () => {
    const a = Float64Array.of(0.36004217, 0.19662823, 0.46382691, 0.78522072);
    const b = Float64Array.of(0.19662823, 0.46382691, 0.36004217, 0.78522072);
    expect((angleBetween(a, 0, b, 0) * 180) / Math.PI).toBeCloseTo(37.98374923, 5);
    expect(angleBetween(a, 0, a, 0)).toBe(0);
    expect(
      angleBetween(
        a,
        0,
        b.map((value) => -value),
        0,
      ),
    ).toBeCloseTo(angleBetween(a, 0, b, 0), 12);
    expect(angleBetween(Float64Array.of(0, 0, 0, 1), 0, Float64Array.of(1, 0, 0, 0), 0)).toBeCloseTo(
      Math.PI,
      12,
    );
    // A turn of 10⁻⁹ rad, which the arc cosine cannot tell from none.
    expect(angleBetween(Float64Array.of(0, 0, 0, 1), 0, Float64Array.of(5e-10, 0, 0, 1), 0)).toBeCloseTo(
      1e-9,
      15,
    );
    expect(turnsOfOrientations(new Float64Array(0))).toHaveLength(0);
  });
});

describe("moves and holds of a node", () => {
  const slide = eased(10, 34, 0, 0.8);
  const study = studyOf(pathDocument(0, 60, (frame) => [slide(frame), 1, 0]));

  test("an eased slide is one move between two holds", () => {
    const moves = movesOf(study, 0);
    expect(moves).toHaveLength(1);
    const [move] = moves;
    expect(Math.abs(move.from - 11)).toBeLessThanOrEqual(1);
    expect(Math.abs(move.to - 33)).toBeLessThanOrEqual(1);
    // 1.875 times the mean speed of 0.8 m in one second.
    expect(Math.abs(move.peakSpeed - 1.5)).toBeLessThan(0.02);
    expect(move.travel).toBeGreaterThan(0.79);
    expect(holdsOf(study, 0)).toEqual([
      { from: 0, to: move.from },
      { from: move.to, to: 60 },
    ]);
    expect(turnsOf(study, 0)).toEqual([]);
  });

  test("at 120 judged frames per second it is the same move", () => {
    const fine = studyOf(pathDocument(0, 300, (frame) => [slide(frame / 5), 1, 0], { rate: 120 }));
    const [move] = movesOf(fine, 0);
    expect(Math.abs(move.from / 5 - movesOf(study, 0)[0].from)).toBeLessThanOrEqual(1);
    expect(Math.abs(move.to / 5 - movesOf(study, 0)[0].to)).toBeLessThanOrEqual(1);
    expect(Math.abs(move.peakSpeed - 1.5)).toBeLessThan(0.01);
  });

  test("on threes the held samples do not cut the move up", () => {
    const keys = Array.from({ length: 9 }, (_, i): Keys[number] => [10 + 3 * i, slide(10 + 3 * i)]);
    const held = studyOf(
      pointDocument({ "translation.x": { interpolation: "step", keys } }, { range: [0, 60] }),
    );
    expect(movesOf(held, 0)).toHaveLength(1);
  });

  test("a head that turns on the spot does not move, but turns", () => {
    const turn = eased(10, 30, 0, 40);
    const curves = { "head rotation.y": everyFrame(0, 48, turn) };
    const nodes = [
      { id: "body" },
      { id: "head", parent: "body", translation: [0, 1.7, 0] as [number, number, number] },
    ];
    const turning = studyOf(documentOf(nodes, curves));
    const head = rigOf(turning).indexOf.get("head") ?? -1;
    expect(movesOf(turning, head)).toEqual([]);
    expect(turnsOf(turning, head)).toHaveLength(1);
    expect(turnsOf(turning, head)[0].travel * (180 / Math.PI)).toBeCloseTo(40, 0);
  });

  test("moves and holds share their ends and cover the range", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 1, maxLength: 8 }),
        (values) => {
          const keys = values.map((value, i): Keys[number] => [7 * i, value]);
          const shot = studyOf(pointDocument({ "translation.y": keys }, { range: [0, 50] }));
          const stretches = [...movesOf(shot, 0), ...holdsOf(shot, 0)].sort((a, b) => a.from - b.from);
          expect([stretches[0].from, stretches[stretches.length - 1].to]).toEqual([0, 50]);
          for (let i = 1; i < stretches.length; i++) expect(stretches[i].from).toBe(stretches[i - 1].to);
        },
      ),
      { numRuns: 50 },
    );
  });
});
