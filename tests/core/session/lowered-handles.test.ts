import { expect, test } from "vitest";
import { valueAt } from "../../../packages/core/curve/evaluate.ts";
import { editShot } from "../../../packages/core/document/edit.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { Subject } from "../../../packages/core/faults/fix.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { withoutBulge } from "../../../packages/core/faults/shared/posing/lowered-handles.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { bipedDocument } from "../../support/shots.ts";

/** Hips that are held at one place by two keys, between which the curve bulges. */
const { shot } = shotOf(
  bipedDocument(
    {
      "hips translation.x": {
        interpolation: "bezier",
        keys: [
          [1, 0, { out: [3, 0] }],
          [20, 0, { in: [-6, 0], out: [6, 0.2] }],
          [40, 0, { in: [-6, 0.1], out: [6, 0] }],
          [60, 0, { in: [-6, 0] }],
        ],
      },
    },
    { range: [1, 60] },
  ),
);

test("the handles around the noted frames are lowered, and no others, until a curve keeps to its keys", () => {
  if (shot === null) throw new Error("not a shot");
  const keys = [
    { node: "hips", channel: "translation.x", frame: 20, index: 1 },
  ] as unknown as Subject["keys"];
  const subject = {
    study: studyOf(shot, defaultSettings(registry)),
    shot,
    keys,
    from: 24,
    to: 34,
  } as unknown as Subject;
  const most = [...withoutBulge(subject)].map((edits) => {
    expect(edits.map(({ frame }) => frame)).toEqual([20, 40]);
    const [curve] = editShot(shot, edits).curves;
    return Math.max(...Array.from({ length: 21 }, (_, i) => Math.abs(valueAt(curve, 20 + i))));
  });
  const before = Math.max(...Array.from({ length: 21 }, (_, i) => valueAt(shot.curves[0], 20 + i)));
  expect(most[0]).toBeCloseTo(0.3 * before, 3);
  expect(most[1]).toBe(0);
});
