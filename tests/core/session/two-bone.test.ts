import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { angleBetween } from "../../../packages/core/base/quaternion.ts";
import type { Study } from "../../../packages/core/base/study.ts";
import { tryEditShot } from "../../../packages/core/document/edit.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import { withEndsKept } from "../../../packages/core/faults/shared/posing/kept-ends.ts";
import { shiftedNode } from "../../../packages/core/faults/shared/posing/node-shift.ts";
import { worldOf } from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { motionDocument, standing, standingHips } from "../../support/bodies.ts";
import { documentOf, everyFrame } from "../../support/shots.ts";

const settings = defaultSettings(registry);
const { shot } = shotOf(
  motionDocument({
    first: 1,
    last: 24,
    hips: (frame) => [0, standingHips - 0.04 - 0.02 * Math.cos(frame / 5), 0],
    left: () => standing("left", 0.1),
    right: () => standing("right", -0.1),
  }),
);
if (shot === null) throw new Error("not a shot");
const still = shot;
const study = studyOf(still, settings);

/** The figure with its hips shifted, feet kept. */
function shifted(x: number, y: number, z: number) {
  const { count } = gridOf(study);
  const way = new Float64Array(3 * count);
  for (let i = 4; i < 20; i++) {
    const share = Math.sin((Math.PI * (i - 3)) / 17) ** 2;
    way.set([share * x, share * y, share * z], 3 * i);
  }
  const hips = rigOf(study).indexOf.get("hips") ?? 0;
  const edits = shiftedNode(study, hips, { lo: 0, hi: count - 1 }, way);
  const { shot: after, problems } = tryEditShot(still, withEndsKept(study, still, edits));
  expect(problems).toEqual([]);
  return { after: studyOf(after, settings), way };
}

function apart(other: Study, id: string): { metres: number; angle: number } {
  const node = rigOf(study).indexOf.get(id) ?? 0;
  const [a, b] = [worldOf(study, node), worldOf(other, node)];
  let [metres, angle] = [0, 0];
  for (let i = 0; i < gridOf(study).count; i++) {
    metres = Math.max(
      metres,
      Math.hypot(...[0, 1, 2].map((k) => a.position[3 * i + k] - b.position[3 * i + k])),
    );
    angle = Math.max(angle, angleBetween(a.orientation, 4 * i, b.orientation, 4 * i));
  }
  return { metres, angle };
}

describe("legs whose feet are kept while the hips go elsewhere", () => {
  test("keep them where they stand and as they stand", () => {
    const within = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
    fc.assert(
      fc.property(
        within(0.05),
        fc.double({ min: -0.15, max: 0.01, noNaN: true }),
        within(0.08),
        (x, y, z) => {
          const { after } = shifted(x, y, z);
          for (const foot of ["foot_l", "foot_r"]) {
            const { metres, angle } = apart(after, foot);
            // A channel without a curve gets one from half a degree on: so much the legs may be off about one axis, and
            // the feet, which are up to 30 cm off that axis, with them.
            expect(metres).toBeLessThan(0.003);
            expect(angle).toBeLessThan((0.6 * Math.PI) / 180);
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  test("have the hips where they were asked for", () => {
    const { after, way } = shifted(0.02, -0.1, 0.03);
    const hips = rigOf(study).indexOf.get("hips") ?? 0;
    const [a, b] = [worldOf(study, hips).position, worldOf(after, hips).position];
    for (let k = 0; k < way.length; k++) expect(b[k] - a[k]).toBeCloseTo(way[k], 4);
  });

  test("bend their knees the way they did", () => {
    const { after } = shifted(0, -0.12, 0);
    for (const knee of ["shin_l", "shin_r"]) {
      const node = rigOf(study).indexOf.get(knee) ?? 0;
      const [a, b] = [worldOf(study, node).position, worldOf(after, node).position];
      for (let i = 0; i < gridOf(study).count; i++)
        expect(b[3 * i + 2]).toBeGreaterThan(a[3 * i + 2] - 0.005);
    }
  });

  test("reach as far as they can where the feet are out of reach", () => {
    const { after } = shifted(0, 0.4, 0);
    const [hip, knee, foot] = ["thigh_l", "shin_l", "foot_l"].map((id) => rigOf(study).indexOf.get(id) ?? 0);
    const at = (node: number) => worldOf(after, node).position.subarray(33, 36);
    const length = (a: Float64Array, b: Float64Array) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
    const [upper, lower] = [length(at(hip), at(knee)), length(at(knee), at(foot))];
    // Bones keep their length.
    expect(upper).toBeCloseTo(0.42, 6);
    expect(lower).toBeCloseTo(0.42, 6);
    expect(length(at(hip), at(foot))).toBeGreaterThan(0.99 * (upper + lower));
  });
});

describe("forefeet that stand while the hips go elsewhere", () => {
  type Joint = { id: string; parent?: string; translation?: [number, number, number] };
  const limb = (names: readonly string[], parent: string, x: number): Joint[] =>
    [
      [x, -0.05, 0],
      [0, -0.3, 0.06],
      [0, -0.28, -0.06],
      [0, -0.05, 0.08],
    ].map((translation, k) => ({
      id: names[k],
      parent: names[k - 1] ?? parent,
      translation: translation as [number, number, number],
    }));
  const legs = ["l", "r"].flatMap((side) => {
    const named = (names: readonly string[]) => names.map((name) => `${name}_${side}`);
    const x = side === "l" ? 0.12 : -0.12;
    return [
      ...limb(named(["thigh", "shin", "foot", "toes"]), "hips", x),
      ...limb(named(["upper_arm", "forearm", "hand", "fingers"]), "chest", x),
    ];
  });
  const document = documentOf(
    [
      { id: "hips" },
      { id: "spine", parent: "hips", translation: [0, 0, 0.35] },
      { id: "chest", parent: "spine", translation: [0, 0, 0.35] },
      { id: "neck", parent: "chest", translation: [0, 0.1, 0.15] },
      { id: "head", parent: "neck", translation: [0, 0.1, 0.15] },
      ...legs,
    ],
    {
      "hips translation.y": everyFrame(1, 24, () => 0.68),
      "head rotation.y": everyFrame(1, 24, (frame) => frame),
    },
  );

  test("stay where they stand, as hind feet do", () => {
    const { shot } = shotOf(document);
    if (shot === null) throw new Error("not a shot");
    const before = studyOf(shot, settings);
    const { indexOf } = rigOf(before);
    const { count } = gridOf(before);
    const way = new Float64Array(3 * count);
    for (let i = 4; i < 20; i++) way[3 * i + 2] = 0.05 * Math.sin((Math.PI * (i - 3)) / 17) ** 2;
    const edits = shiftedNode(before, indexOf.get("hips") ?? 0, { lo: 0, hi: count - 1 }, way);
    const { shot: moved } = tryEditShot(shot, withEndsKept(before, shot, edits));
    const after = studyOf(moved, settings);
    for (const id of ["foot_l", "foot_r", "hand_l", "hand_r"]) {
      const node = indexOf.get(id) ?? 0;
      const [a, b] = [before, after].map((study) => worldOf(study, node).position);
      for (let k = 0; k < a.length; k++) expect(Math.abs(b[k] - a[k]), id).toBeLessThan(0.003);
    }
  });
});
