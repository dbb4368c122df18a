import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { sampleCurveWithout } from "../../../packages/core/curve/evaluate.ts";
import { type Channel, type Curve, channels, type Shot } from "../../../packages/core/document/model.ts";
import { influenceOf } from "../../../packages/core/rig/influence.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { builtShot, quaternionCurve, scalarCurve, studyOf } from "./pose-shot.ts";
import { anyQuaternion, anyShot } from "./random-shot.ts";
import { expectNear, rowsOf } from "./three-pose.ts";

/** A shot with one channel of a node given by a value per frame. */
function withChannel(
  shot: Shot,
  node: string,
  channel: Channel,
  frames: Float64Array,
  values: number[],
): Shot {
  const make = channel === "rotation" ? quaternionCurve : scalarCurve;
  const curve: Curve = { ...make([...frames], values, "linear", { node }), channel };
  const others = shot.curves.filter((other) => other.node !== node || other.channel !== channel);
  return { ...shot, curves: [...others, curve] };
}

function expectInfluence(
  shot: Shot,
  ancestor: number,
  channel: Channel,
  lo: number,
  hi: number,
  values: number[],
) {
  const study = studyOf(shot);
  const rig = rigOf(study);
  const id = rig.ids[ancestor];
  const frames = gridOf(study).frames.slice(lo, hi + 1);
  const changed = studyOf(withChannel(shot, id, channel, frames, values));
  const count = hi - lo + 1;
  const position = new Float64Array(3 * count);
  const orientation = new Float64Array(4 * count);
  for (let node = 0; node < rig.count; node++) {
    influenceOf(study, ancestor, channel, lo, hi, Float64Array.from(values), node, position, orientation);
    const expected = worldOf(changed, node);
    expectNear(position, expected.position.slice(3 * lo, 3 * hi + 3), 1e-9);
    for (let i = 0; i < count; i++) {
      const turn = expected.orientation.subarray(4 * (lo + i), 4 * (lo + i) + 4);
      expectNear(rowsOf(orientation.subarray(4 * i, 4 * i + 4)), rowsOf(turn), 1e-9);
    }
  }
}

describe("a changed channel against the whole shot worked out again", () => {
  test.each([false, true])("any channel of any ancestor, scaled: %s", (scaled) => {
    fc.assert(
      fc.property(
        anyShot(scaled),
        fc.nat(),
        fc.constantFrom(...channels.filter((channel) => scaled || !channel.startsWith("scale"))),
        fc.integer({ min: 0, max: 10 }),
        fc.integer({ min: 0, max: 10 }),
        fc.array(fc.double({ min: -200, max: 200, noNaN: true }), { minLength: 11, maxLength: 11 }),
        fc.array(anyQuaternion, { minLength: 11, maxLength: 11 }),
        (shot, pick, channel, a, b, numbers, quaternions) => {
          const lo = Math.min(a, b);
          const hi = Math.max(a, b);
          const ancestor = pick % shot.header.nodes.length;
          const count = hi - lo + 1;
          const values =
            channel === "rotation"
              ? quaternions.slice(0, count).flat()
              : numbers.slice(0, count).map((it) => (channel.startsWith("rotation") ? it : it / 100));
          expectInfluence(shot, ancestor, channel, lo, hi, values);
        },
      ),
      { numRuns: 150 },
    );
  });

  test("a scale of zero does not stop it", () => {
    const shot = builtShot(
      [
        { id: "a", scale: [0, 1, 1] },
        { id: "b", parent: "a", translation: [1, 2, 3] },
      ],
      [],
    );
    expectInfluence(shot, 0, "rotation.y", 2, 4, [10, 20, 30]);
    expectInfluence(shot, 0, "scale.x", 2, 4, [1, 2, 3]);
  });
});

test("values that are as they were change nothing, to the last digit", () => {
  const curve = scalarCurve([0, 10], [3, 77], "smooth", { node: "a", channel: "rotation.x" });
  const study = studyOf(builtShot([{ id: "a" }, { id: "b", parent: "a", translation: [1, 2, 3] }], [curve]));
  const values = new Float64Array(11);
  sampleCurveWithout(curve, 5, 4, gridOf(study).frames, values);
  const position = new Float64Array(33);
  influenceOf(study, 0, "rotation.x", 0, 10, values, 1, position, null);
  expect([...position]).toEqual([...worldOf(study, 1).position]);
});

test("a node that is not below the changed one stays", () => {
  const study = studyOf(
    builtShot([{ id: "a", translation: [1, 0, 0] }, { id: "b", parent: "a" }, { id: "c" }], []),
  );
  const position = new Float64Array(3);
  const orientation = new Float64Array(4);
  for (const [ancestor, node] of [
    [1, 0],
    [0, 2],
  ]) {
    influenceOf(study, ancestor, "translation.y", 3, 3, Float64Array.of(9), node, position, orientation);
    expect([...position]).toEqual([...worldOf(study, node).position.subarray(0, 3)]);
    expect([...orientation]).toEqual([0, 0, 0, 1]);
  }
});
