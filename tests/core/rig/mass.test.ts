import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Study } from "../../../packages/core/base/study.ts";
import { type Segment, segmentsOf } from "../../../packages/core/rig/mass.ts";
import { restPositionsOf, rigOf } from "../../../packages/core/rig/rig.ts";
import { bipedLines, nodesFrom, studyOf } from "./body-study.ts";

const total = (segments: readonly Segment[]) => segments.reduce((sum, { mass }) => sum + mass, 0);

function massOf(study: Study, part: string): number {
  return total(segmentsOf(study, 0).filter((segment) => segment.part === part));
}

/** Centre of mass of the rest pose, document units. */
function restCentre(study: Study, segments = segmentsOf(study, 0)): number[] {
  const positions = restPositionsOf(study);
  return [0, 1, 2].map((k) =>
    segments.reduce((sum, { from, to, along, mass }) => {
      const start = positions[3 * from + k];
      return sum + mass * (start + along * (positions[3 * to + k] - start));
    }, 0),
  );
}

const without = (lines: string, ...roots: string[]) => {
  const gone = new Set(roots);
  const kept: string[] = [];
  for (const line of lines.trim().split("\n")) {
    const [id, parent] = line
      .split("@")[0]
      .split("<")
      .map((word) => word.trim());
    if (gone.has(id) || gone.has(parent)) gone.add(id);
    else kept.push(line);
  }
  return kept.join("\n");
};

describe("segments of a human", () => {
  const study = studyOf(nodesFrom(bipedLines));

  // de Leva 1996, mean of the male and female columns; they sum to 0.99995 of the body.
  it.each([
    ["head", (0.0694 + 0.0668) / 2],
    ["chest", (0.4346 + 0.4257) / 2],
    ["leftUpperArm", (0.0271 + 0.0255) / 2],
    ["rightForearm", (0.0162 + 0.0138) / 2],
    ["leftHand", (0.0061 + 0.0056) / 2],
    ["rightThigh", (0.1416 + 0.1478) / 2],
    ["leftShin", (0.0433 + 0.0481) / 2],
    ["rightFoot", (0.0137 + 0.0129) / 2],
  ])("gives the %s de Leva's mass", (part, mass) => {
    expect(massOf(study, part)).toBeCloseTo(mass / 0.99995, 9);
  });

  // de Leva 1996: share of the way from the proximal joint, mean of both columns.
  it.each([
    ["leftUpperArm", "leftShoulder", "leftElbow", (0.5772 + 0.5754) / 2],
    ["leftForearm", "leftElbow", "leftWrist", (0.4574 + 0.4559) / 2],
    ["leftThigh", "leftHip", "leftKnee", (0.4095 + 0.3612) / 2],
    ["leftShin", "leftKnee", "leftAnkle", (0.4395 + 0.4352) / 2],
    ["leftHand", "leftWrist", "leftFingertip", (0.3624 + 0.3427) / 2],
  ])("puts the centre of the %s between %s and %s", (part, from, to, along) => {
    const { ids } = rigOf(study);
    const segment = segmentsOf(study, 0).find((one) => one.part === part) as Segment;
    expect([ids[segment.from], ids[segment.to]]).toEqual([from, to]);
    expect(segment.along).toBeCloseTo(along, 9);
  });

  it("puts the trunk's centre on the line from mid-shoulder to mid-hip", () => {
    const trunk = segmentsOf(study, 0).filter(({ part }) => part === "chest");
    const share = (0.431 + 0.3782) / 2;
    const centre = restCentre(
      study,
      trunk.map((segment) => ({ ...segment, mass: segment.mass / total(trunk) })),
    );
    const [shoulder, hip] = [0.95 + 0.26 + 0.2, 0.95 - 0.05];
    expect(centre[0]).toBeCloseTo(0, 12);
    expect(centre[1]).toBeCloseTo(shoulder + share * (hip - shoulder), 9);
  });

  it("puts the whole body's centre at a likely height (about 0.55 of stature in standing; from memory)", () => {
    const centre = restCentre(study);
    expect(centre[0]).toBeCloseTo(0, 9);
    expect(centre[1] / 1.7).toBeGreaterThan(0.53);
    expect(centre[1] / 1.7).toBeLessThan(0.6);
  });

  it("puts the centre of a hand without fingers beyond the wrist", () => {
    const bare = studyOf(nodesFrom(without(bipedLines, "leftKnuckle", "rightKnuckle")));
    const { ids } = rigOf(bare);
    const hand = segmentsOf(bare, 0).find(({ part }) => part === "leftHand") as Segment;
    expect([ids[hand.from], ids[hand.to]]).toEqual(["leftElbow", "leftWrist"]);
    expect((hand.along - 1) * 0.26).toBeCloseTo(0.108 * 1.7 * 0.35255, 2);
  });

  it("gives the mass of a missing part to the one that carries it", () => {
    const footless = studyOf(nodesFrom(without(bipedLines, "leftAnkle", "rightAnkle")));
    expect(massOf(footless, "leftThigh")).toBeCloseTo((0.1447 + 0.0457 + 0.0133) / 0.99995, 9);
    const armless = studyOf(nodesFrom(without(bipedLines, "leftCollar", "rightCollar")));
    const arm = 0.0263 + 0.015 + 0.00585;
    expect(massOf(armless, "chest")).toBeCloseTo((0.43015 + 2 * arm) / 0.99995, 9);
  });

  it("sums to 1 whichever limbs are missing", () => {
    const ids = nodesFrom(bipedLines)
      .map(({ id }) => id)
      .filter((id) => id !== "hips");
    fc.assert(
      fc.property(fc.subarray(ids, { maxLength: 6 }), (gone) => {
        const some = studyOf(nodesFrom(without(bipedLines, ...gone)));
        const segments = segmentsOf(some, 0);
        if (segments.length > 0) expect(total(segments)).toBeCloseTo(1, 9);
        for (const { mass, along } of segments) {
          expect(mass).toBeGreaterThan(0);
          expect(Number.isFinite(along)).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });
});

describe("segments of any other figure", () => {
  it("spreads mass by the cube of bone length, centred half way", () => {
    const study = studyOf(nodesFrom("cart\naxle < cart @ 2 0 0\nwheel < axle @ 0 1 0"));
    const segments = segmentsOf(study, 0);
    expect(segments.map(({ mass }) => mass)).toEqual([8 / 9, 1 / 9]);
    expect(segments.every(({ along }) => along === 0.5)).toBe(true);
  });

  it("puts all mass at the root where no bone has a length", () => {
    const segments = segmentsOf(studyOf(nodesFrom("cart\nwheel < cart")), 0);
    expect(segments).toEqual([{ from: 0, to: 0, along: 0, mass: 1, part: "root" }]);
  });

  it("gives none for a figure that is not there", () => {
    expect(segmentsOf(studyOf(nodesFrom("ball")), 0)).toEqual([]);
  });
});
