import fc from "fast-check";
import type { Object3D } from "three";
import { describe, expect, test } from "vitest";
import { setShot } from "../../../packages/core/document/inputs.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import {
  chainOf,
  curveNamesOfNode,
  localRotationOf,
  localTranslationOf,
  subtreeOf,
  worldOf,
} from "../../../packages/core/rig/pose.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { gridOf } from "../../../packages/core/time/grid.ts";
import { builtShot, quaternionCurve, scalarCurve, studyOf } from "./pose-shot.ts";
import { anyShot } from "./random-shot.ts";
import { expectNear, rowsOf, threePose, toYUp, upperRows } from "./three-pose.ts";

describe("world poses against the world matrices of three", () => {
  test.each([false, true])("random hierarchies, every rotation order, scaled: %s", (scaled) => {
    fc.assert(
      fc.property(anyShot(scaled), (shot) => {
        const study = studyOf(shot);
        const rig = rigOf(study);
        const metres = shot.header.space?.metresPerUnit ?? 1;
        gridOf(study).frames.forEach((frame, i) => {
          const objects = threePose(shot, frame);
          const plain = threePose(shot, frame, true);
          rig.ids.forEach((id, node) => {
            const world = worldOf(study, node);
            const matrix = (objects.get(id) as Object3D).matrixWorld;
            expectNear(world.position.subarray(3 * i, 3 * i + 3), matrix.elements.slice(12, 15), 1e-9);
            const turns = upperRows((plain.get(id) as Object3D).matrixWorld);
            expectNear(rowsOf(world.orientation.subarray(4 * i, 4 * i + 4)), turns, 1e-9);
            const linear =
              world.linear === null
                ? rowsOf(world.orientation.subarray(4 * i, 4 * i + 4))
                : world.linear.subarray(9 * i, 9 * i + 9);
            expectNear(
              Array.from(linear, (part) => part * metres),
              upperRows(matrix),
              1e-9,
            );
          });
        });
      }),
      { numRuns: 60 },
    );
  });
});

describe("axes and units", () => {
  const nodes = [{ id: "a", translation: [1, 2, 3] as [number, number, number] }];

  test.each([
    ["x" as const, [-0.02, 0.01, 0.03]],
    ["y" as const, [0.01, 0.02, 0.03]],
    ["z" as const, [0.01, 0.03, -0.02]],
  ])("%s up becomes y up, in metres", (up, expected) => {
    const study = studyOf(builtShot(nodes, [], [0, 3], { metresPerUnit: 0.01, up, angle: "degrees" }));
    const world = worldOf(study, 0);
    for (let i = 0; i < 4; i++) expectNear(world.position.subarray(3 * i, 3 * i + 3), expected, 1e-15);
    expect(world.still).toBe(true);
    expectNear(rowsOf(world.orientation), upperRows(toYUp[up]), 1e-15);
  });

  test("a turn about the up axis of a z-up document is a turn about y", () => {
    const curve = scalarCurve([0], [Math.PI / 2], "linear", { node: "a", channel: "rotation.z" });
    const child = { id: "b", parent: "a", translation: [1, 0, 0] as [number, number, number] };
    const space = { metresPerUnit: 1, up: "z" as const, angle: "radians" as const };
    const study = studyOf(builtShot([{ id: "a" }, child], [curve], [0, 2], space));
    // In the document the child stands at (0, 1, 0): with y up that is (0, 0, -1).
    expectNear(worldOf(study, 1).position.subarray(3, 6), [0, 0, -1], 1e-15);
  });
});

describe("local series", () => {
  const spec = { id: "a", translation: [1, 2, 3] as [number, number, number] };

  test("a translation curve replaces its component of the translation alone", () => {
    const curve = scalarCurve([0, 4], [0, 8], "linear", { node: "a", channel: "translation.y" });
    const study = studyOf(builtShot([spec], [curve], [0, 4]));
    expect([...localTranslationOf(study, 0)]).toEqual([1, 0, 3, 1, 2, 3, 1, 4, 3, 1, 6, 3, 1, 8, 3]);
  });

  test("a quaternion curve replaces the axis channels and the rest rotation; the fixed rotation stays before it", () => {
    const half = Math.SQRT1_2;
    const shot = builtShot(
      [{ ...spec, rotation: [10, 20, 30], fixedRotation: [half, 0, 0, half] }],
      [
        scalarCurve([0], [50], "linear", { node: "a", channel: "rotation.x" }),
        quaternionCurve([0], [0, half, 0, half], "linear", { node: "a" }),
      ],
      [0, 1],
    );
    expectNear(localRotationOf(studyOf(shot), 0), [0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5], 1e-15);
  });

  test("a curve without keys counts as no curve", () => {
    const shot = builtShot([spec], [scalarCurve([], [], "linear", { node: "a" })], [0, 1]);
    expect([...localTranslationOf(studyOf(shot), 0)]).toEqual([1, 2, 3, 1, 2, 3]);
  });

  test("curve names of a node whose id holds spaces", () => {
    const shot = builtShot(
      [{ id: "left arm" }, { id: "left" }],
      [scalarCurve([0], [1], "linear", { node: "left arm", channel: "rotation.y" })],
    );
    const study = studyOf(shot);
    expect(curveNamesOfNode(study, 0)).toEqual(["left arm rotation.y"]);
    expect(curveNamesOfNode(study, 1)).toEqual([]);
  });
});

describe("edits", () => {
  test("an edited curve moves what hangs below it, and nothing else is worked out again", () => {
    const key = (node: string, value: number) =>
      scalarCurve([0, 10], [0, value], "linear", { node, channel: "rotation.z" });
    const nodes = [
      { id: "a" },
      { id: "b", parent: "a", translation: [1, 0, 0] as [number, number, number] },
      { id: "c", parent: "a", translation: [0, 1, 0] as [number, number, number] },
      { id: "d", parent: "b", translation: [1, 0, 0] as [number, number, number] },
    ];
    const shot = builtShot(nodes, [key("a", 30), key("b", 40)]);
    const study = studyOf(shot);
    const rig = rigOf(study);
    const before = rig.ids.map((_, node) => worldOf(study, node));
    const edited = { ...shot, curves: [shot.curves[0], key("b", 90)] };
    setShot(study, edited, shot);
    const fresh = studyOf(edited);
    rig.ids.forEach((id, node) => {
      expect([...worldOf(study, node).position]).toEqual([...worldOf(fresh, node).position]);
      expect(worldOf(study, node) === before[node]).toBe(id === "a" || id === "c");
    });
  });

  test("a header that changes nothing of the rig keeps every pose", () => {
    const shot = builtShot([{ id: "a" }], [scalarCurve([0, 9], [0, 1], "smooth", { node: "a" })]);
    const study = studyOf(shot);
    const before = worldOf(study, 0);
    setShot(
      study,
      { ...shot, header: { ...shot.header, waivers: [{ check: "pop", reason: "meant" }] } },
      shot,
    );
    expect(worldOf(study, 0)).toBe(before);
  });
});

test("chains and subtrees", () => {
  const study = studyOf(
    builtShot([{ id: "a" }, { id: "b", parent: "a" }, { id: "x" }, { id: "c", parent: "b" }], []),
  );
  const rig = rigOf(study);
  const at = (id: string) => rig.indexOf.get(id) as number;
  expect(chainOf(rig, at("c"))).toEqual([at("a"), at("b"), at("c")]);
  expect(subtreeOf(rig, at("a"))).toEqual([at("a"), at("b"), at("c")]);
  expect(subtreeOf(rig, at("x"))).toEqual([at("x")]);
});

test("a chain of 20,000 nodes is posed", () => {
  const count = 20_000;
  const nodes = Array.from({ length: count }, (_, i) => ({
    id: `n${i}`,
    translation: [0, 1, 0] as [number, number, number],
    ...(i === 0 ? {} : { parent: `n${i - 1}` }),
  }));
  const curve = scalarCurve([0, 1], [0, 5], "linear", { node: "n0" });
  const study = studyOf(builtShot(nodes, [curve], [0, 1]));
  expect([...worldOf(study, count - 1).position]).toEqual([0, count, 0, 5, count, 0]);
  setShot(study, builtShot(nodes, [{ ...curve, values: Float64Array.of(0, 7) }], [0, 1]));
  expect(worldOf(study, count - 1).position[3]).toBe(7);
});

describe("the grid of judged frames", () => {
  const nodes = [{ id: "a" }];
  const gridFor = (range: [number, number], rate: Shot["frameRate"], judged: number | null) =>
    gridOf(studyOf(builtShot(nodes, [], range, undefined, rate), judged));

  test("at the document's own rate, a fraction", () => {
    const grid = gridFor([1001, 1096], { numerator: 24000, denominator: 1001 }, null);
    expect(grid.count).toBe(96);
    expect(grid.rate).toBe(24000 / 1001);
    expect(grid.dt).toBe(1001 / 24000);
    expect([grid.frames[0], grid.frames[95]]).toEqual([1001, 1096]);
  });

  test("capture at 120 frames per second judged at 24", () => {
    const grid = gridFor([10, 250], { numerator: 120, denominator: 1 }, 24);
    expect(grid.count).toBe(49);
    expect(grid.dt).toBe(1 / 24);
    expect([...grid.frames.subarray(0, 3)]).toEqual([10, 15, 20]);
    expect(grid.frames[48]).toBe(250);
  });

  test("a judged rate that does not divide the document's ends inside the range", () => {
    const grid = gridFor([0, 10], { numerator: 24000, denominator: 1001 }, 24);
    expect(grid.count).toBe(11);
    expect(grid.frames[10]).toBeCloseTo(10 / 1.001, 12);
  });

  test.each([[[5, 5]], [[5, 4]], [[5, Number.NaN]]] as [[number, number]][])(
    "the range %j has one frame",
    (range) => {
      const grid = gridFor(range, { numerator: 24, denominator: 1 }, null);
      expect(grid.count).toBe(1);
      expect(grid.frames[0]).toBe(5);
    },
  );

  test("a range of one frame is posed", () => {
    const study = studyOf(builtShot(nodes, [scalarCurve([0, 10], [0, 1], "linear", { node: "a" })], [5, 5]));
    expect([...worldOf(study, 0).position]).toEqual([0.5, 0, 0]);
  });
});
