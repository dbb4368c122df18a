import { describe, expect, test } from "vitest";
import type { Study } from "../../../../packages/core/base/study.ts";
import { noiseSourceOf, noiseSpan } from "../../../../packages/core/motion/path/noise.ts";
import { worldOf } from "../../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../../packages/core/time/grid.ts";
import { chainDocument, eased, everyFrame, studyOf } from "../../../support/shots.ts";

/** To and fro by uneven amounts on the frames from..to, 0 elsewhere. */
const shake = (from: number, to: number) => (frame: number) =>
  frame < from || frame > to ? 0 : (-1) ** frame * (1 + 0.4 * Math.sin(2.3 * frame));

const sourceAt = (study: Study, id: string) => {
  const node = rigOf(study).indexOf.get(id) as number;
  const poses = Int32Array.from({ length: gridOf(study).count }, (_, i) => i);
  const path = worldOf(study, node).position;
  return noiseSourceOf(study, { node, turns: false, poses, path, run: { from: 20, to: 50 } });
};

describe("where noise comes from", () => {
  const swing = eased(5, 75, 0, 60);

  test("all of it comes from the one joint that shakes, whatever the others do", () => {
    const study = studyOf(
      chainDocument(3, {
        "joint_1 rotation.y": everyFrame(1, 80, swing),
        "joint_2 rotation.z": everyFrame(1, 80, (f) => swing(f) + shake(20, 50)(f)),
        "joint_3 rotation.z": everyFrame(1, 80, (f) => -swing(f)),
      }),
    );
    const source = sourceAt(study, "tip");
    expect(source).toMatchObject({ joint: rigOf(study).indexOf.get("joint_2"), kind: "turn" });
    expect(source?.share).toBeCloseTo(1, 1);
  });

  test("two joints share it as far as they move the node: the farther one by its longer lever", () => {
    const shaken = everyFrame(1, 80, shake(20, 50));
    const study = studyOf(chainDocument(2, { "joint_1 rotation.z": shaken, "joint_2 rotation.z": shaken }));
    // 0.6 m and 0.3 m from the tip.
    const source = sourceAt(study, "tip");
    expect(source).toMatchObject({ joint: rigOf(study).indexOf.get("joint_1") });
    expect(source?.share).toBeCloseTo(2 / 3, 1);
  });

  test("a joint that shifts is told from one that turns", () => {
    const study = studyOf(
      chainDocument(2, { "joint_1 translation.y": everyFrame(1, 80, (f) => 0.01 * shake(20, 50)(f)) }),
    );
    expect(sourceAt(study, "tip")).toMatchObject({ kind: "shift", share: expect.closeTo(1, 6) });
  });

  test("lasts from the first frame that is off the path to the last one", () => {
    const study = studyOf(
      chainDocument(2, { "joint_1 rotation.z": everyFrame(1, 80, (f) => swing(f) + shake(20, 50)(f)) }),
    );
    const poses = Int32Array.from({ length: 80 }, (_, i) => i);
    const source = { joint: rigOf(study).indexOf.get("joint_1") as number, kind: "turn", share: 1 } as const;
    for (const run of [
      { from: 24, to: 40 },
      { from: 12, to: 60 },
    ]) {
      const span = noiseSpan(study, source, poses, run, 4);
      // Frame 1 is pose 0.
      expect(Math.abs(span.from - 19)).toBeLessThanOrEqual(1);
      expect(Math.abs(span.to - 49)).toBeLessThanOrEqual(1);
    }
  });
});
