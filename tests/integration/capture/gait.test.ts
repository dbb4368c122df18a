import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readBvh } from "../../../packages/adapters/bvh/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { gaitsOf, usualStride } from "../../../packages/core/motion/ground/gait.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { resolveSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** Recordings of the Debian package assimp-testmodels; 01_01 and 01_03 are CMU's (mocap.cs.cmu.edu, NSF EIA-0196217). */
const recorded = (name: string, rate?: number) => {
  const { shot } = readBvh(
    readFileSync(`/usr/share/assimp/models/BVH/${name}.bvh`, "utf8"),
    rate === undefined ? {} : { rate },
  );
  return studyOf(shot!, resolveSettings(registry, {}, { only: ["gait-speed"] }));
};

describe.each(["01_01", "01_03", "Boxing_Toes"])("recording %s", (name) => {
  test("its gaits fit their speed, at its own rate and at 24 per second", () => {
    for (const rate of [undefined, 24]) expect(notesOf(recorded(name, rate))).toEqual([]);
  });
});

test("three recorded strides at 0.87 m/s are as long as those of other legs of this size", () => {
  for (const rate of [undefined, 24]) {
    const [gait] = gaitsOf(recorded("01_03", rate), 0);
    expect(gait!.speed).toBeCloseTo(0.87, 1);
    expect(gait!.length / usualStride(gait!.speed, gait!.hips)).toBeGreaterThan(0.85);
    expect(gait!.length / usualStride(gait!.speed, gait!.hips)).toBeLessThan(1.2);
    expect(gait!.duty).toBeGreaterThan(0.5);
  }
});
