import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { angleBetween, multiplyQuaternions, turnedBy } from "../../../../packages/core/base/quaternion.ts";
import type { Vector } from "../../../../packages/core/base/vector.ts";
import { editShot } from "../../../../packages/core/document/edit.ts";
import {
  type CurveDocument,
  type NodeSpec,
  rotationOrders,
} from "../../../../packages/core/document/schema.ts";
import { documentOf } from "../../../../packages/core/faults/shared/examples/documents.ts";
import {
  raisedKeys,
  shiftedAtKeys,
  turnedAtKeys,
} from "../../../../packages/core/faults/shared/posing/turned-keys.ts";
import { worldOf } from "../../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { studyOf } from "../../../../packages/core/settings/study.ts";
import { settings, shotFrom } from "../../session/objections.ts";

const keyFrames = [1, 9, 14, 30];

interface Chain {
  readonly order: (typeof rotationOrders)[number];
  readonly upAxis: "y" | "z";
  readonly fixed: number;
  readonly parent: number;
  readonly angles: readonly number[];
}

/** A node on a turned parent, in any order of axes, with a turn of its own before its channels. */
const chain = fc.record({
  order: fc.constantFrom(...rotationOrders),
  upAxis: fc.constantFrom("y" as const, "z" as const),
  fixed: fc.double({ min: -1, max: 1, noNaN: true }),
  parent: fc.double({ min: -80, max: 80, noNaN: true }),
  angles: fc.array(fc.double({ min: -60, max: 60, noNaN: true }), { minLength: 12, maxLength: 12 }),
});

function document({ order, upAxis, fixed, parent, angles }: Chain): CurveDocument {
  const keysOf = (axis: number, share: number): [number, number][] =>
    keyFrames.map((frame, i) => [frame, share * angles[3 * i + axis]]);
  const curves = Object.fromEntries(
    ["x", "y", "z"].flatMap((axis, k) => [
      [`jib rotation.${axis}`, keysOf(k, 1)],
      [`jib translation.${axis}`, keysOf(k, 0.02)],
    ]),
  );
  const nodes: NodeSpec[] = [
    { id: "mast", rotation: [parent, 20, -parent / 2] },
    {
      id: "jib",
      parent: "mast",
      translation: [0, 1, 0],
      rotationOrder: order,
      fixedRotation: [Math.sin(fixed), 0, 0, Math.cos(fixed)],
    },
  ];
  return documentOf(nodes, curves, { range: [1, 30], more: { space: { metresPerUnit: 1, up: upAxis } } });
}

const within = { lo: 5, hi: 20, shareAt: () => 1 };
const turn: Vector = [0.1, -0.25, 0.2];
/** Samples of the two keys within. */
const samples = [8, 13];

describe("keys that are turned and shifted where they stand", () => {
  test("turn a node in the world by what is asked, and no key elsewhere", () => {
    fc.assert(
      fc.property(chain, (made) => {
        const shot = shotFrom(document(made));
        const study = studyOf(shot, settings);
        const jib = rigOf(study).indexOf.get("jib") as number;
        const edits = turnedAtKeys(study, jib, within, () => turn);
        expect(new Set(edits.map(({ frame }) => frame))).toEqual(new Set([9, 14]));
        const [before, after] = [study, studyOf(editShot(shot, edits), settings)].map(
          (one) => worldOf(one, jib).orientation,
        );
        const asked = new Float64Array(4);
        turnedBy(Float64Array.of(0, 0, 0, 1), turn, asked);
        for (const sample of samples) {
          const wanted = new Float64Array(4);
          multiplyQuaternions(asked, 0, before, 4 * sample, wanted, 0);
          expect(angleBetween(wanted, 0, after, 4 * sample)).toBeLessThan(2e-3);
        }
      }),
    );
  });

  test("shift a node through the world by what is asked", () => {
    fc.assert(
      fc.property(chain, (made) => {
        const shot = shotFrom(document(made));
        const study = studyOf(shot, settings);
        const jib = rigOf(study).indexOf.get("jib") as number;
        const edits = shiftedAtKeys(study, jib, within, () => turn);
        const [before, after] = [study, studyOf(editShot(shot, edits), settings)].map(
          (one) => worldOf(one, jib).position,
        );
        for (const sample of samples)
          for (let k = 0; k < 3; k++)
            expect(after[3 * sample + k] - before[3 * sample + k]).toBeCloseTo(turn[k], 3);
      }),
    );
  });

  test("are all raised alike by what turns the node at one of them", () => {
    fc.assert(
      fc.property(chain, (made) => {
        const shot = shotFrom(document(made));
        const study = studyOf(shot, settings);
        const jib = rigOf(study).indexOf.get("jib") as number;
        const edits = raisedKeys(study, jib, within, () => turn, 8);
        for (const axis of ["x", "y", "z"]) {
          const curve = shot.curves.find(({ channel }) => channel === `rotation.${axis}`);
          const by = edits.flatMap((edit) => {
            if (edit.channel !== `rotation.${axis}` || edit.kind !== "set" || curve === undefined) return [];
            return [Number(edit.value) - curve.values[curve.frames.indexOf(edit.frame)]];
          });
          if (by.length > 0) expect(by[1]).toBeCloseTo(by[0], 1);
        }
      }),
    );
  });
});
