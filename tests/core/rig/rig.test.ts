import { describe, expect, test } from "vitest";
import {
  eulerToQuaternion,
  multiplyQuaternions,
  rotateVector,
} from "../../../packages/core/base/quaternion.ts";
import { rotationOrders } from "../../../packages/core/document/schema.ts";
import { restPositionsOf, rigOf } from "../../../packages/core/rig/rig.ts";
import { builtShot, studyOf } from "./pose-shot.ts";
import { expectNear, rowsOf } from "./three-pose.ts";

const degrees = Math.PI / 180;

function turn(order: (typeof rotationOrders)[number], x: number, y: number, z: number): Float64Array {
  const out = new Float64Array(4);
  eulerToQuaternion(rotationOrders.indexOf(order), x * degrees, y * degrees, z * degrees, out, 0);
  return out;
}

describe("axis angles to quaternions", () => {
  // Intrinsic sequences, angles in sequence order; worked out with scipy's Rotation.from_euler, printed to 8 digits.
  test.each([
    ["xyz" as const, [30, 40, 50], [0.36004217, 0.19662823, 0.46382691, 0.78522072]],
    ["zxy" as const, [40, 50, 30], [0.19662823, 0.46382691, 0.36004217, 0.78522072]],
    ["zyx" as const, [50, 40, 30], [0.30337177, 0.40219849, 0.08080469, 0.86004217]],
    ["xyz" as const, [90, 90, 0], [0.5, 0.5, 0.5, 0.5]],
  ])("%s of x, y, z = %j", (order, [x, y, z], expected) => {
    expectNear(turn(order, x, y, z), expected, 6e-9);
  });

  test("first row of the xyz matrix (scipy, as above, to 6 digits)", () => {
    expectNear(rowsOf(turn("xyz", 30, 40, 50)).slice(0, 3), [0.492404, -0.586824, 0.642788], 6e-7);
  });

  test.each(rotationOrders)("%s is the product of its three axis turns, the first outermost", (order) => {
    const angles = { x: 37, y: -112, z: 205 };
    const product = Float64Array.of(0, 0, 0, 1);
    for (const axis of order) {
      const single = Float64Array.of(0, 0, 0, Math.cos((angles[axis as "x"] * degrees) / 2));
      single["xyz".indexOf(axis)] = Math.sin((angles[axis as "x"] * degrees) / 2);
      multiplyQuaternions(product, 0, single, 0, product, 0);
    }
    expectNear(turn(order, angles.x, angles.y, angles.z), product, 1e-15);
  });

  test("a quarter turn about z takes x to y", () => {
    const v = Float64Array.of(1, 0, 0);
    rotateVector(turn("xyz", 0, 0, 90), 0, v, 0, v, 0);
    expectNear(v, [0, 1, 0], 1e-15);
  });
});

describe("the hierarchy", () => {
  const rigFor = (nodes: { id: string; parent?: string }[]) => rigOf(studyOf(builtShot(nodes, [])));

  test("parents come before their children, whatever the document's order", () => {
    const rig = rigFor([
      { id: "c", parent: "b" },
      { id: "b", parent: "a" },
      { id: "x" },
      { id: "a" },
      { id: "d", parent: "a" },
    ]);
    expect(rig.ids).toEqual(["x", "a", "b", "c", "d"]);
    expect([...rig.parent]).toEqual([-1, -1, 1, 2, 1]);
    expect([...rig.depth]).toEqual([0, 0, 1, 2, 1]);
    expect([...rig.subtreeSize]).toEqual([1, 4, 2, 1, 1]);
    expect(rig.children[1]).toEqual([2, 4]);
  });

  test("a node whose parent is missing is a root", () => {
    expect([...rigFor([{ id: "a", parent: "nowhere" }]).parent]).toEqual([-1]);
  });

  test("of nodes that share an id the first counts", () => {
    const rig = rigFor([{ id: "a" }, { id: "b" }, { id: "b", parent: "a" }]);
    expect(rig.ids).toEqual(["a", "b"]);
    expect([...rig.parent]).toEqual([-1, -1]);
  });

  test("a cycle is cut at its first node in the document", () => {
    const rig = rigFor([
      { id: "tail", parent: "c" },
      { id: "b", parent: "a" },
      { id: "c", parent: "b" },
      { id: "a", parent: "c" },
    ]);
    expect(rig.ids).toEqual(["b", "c", "tail", "a"]);
    expect([...rig.parent]).toEqual([-1, 0, 1, 1]);
  });

  test("two cycles, and a node that is its own parent", () => {
    const rig = rigFor([
      { id: "a", parent: "b" },
      { id: "b", parent: "a" },
      { id: "self", parent: "self" },
      { id: "c", parent: "d" },
      { id: "d", parent: "c" },
    ]);
    expect(rig.ids).toEqual(["a", "b", "self", "c", "d"]);
    expect([...rig.parent]).toEqual([-1, 0, -1, -1, 3]);
  });

  test("no nodes", () => {
    expect(rigFor([]).count).toBe(0);
  });

  test("a fixed rotation that is not of length 1 is brought to it, a zero one does nothing", () => {
    const shot = builtShot(
      [
        { id: "a", fixedRotation: [0, 0, 2, 2] },
        { id: "b", fixedRotation: [0, 0, 0, 0] },
      ],
      [],
    );
    expectNear(rigOf(studyOf(shot)).fixedRotation, [0, 0, Math.SQRT1_2, Math.SQRT1_2, 0, 0, 0, 1], 1e-15);
  });
});

test("rest positions follow translations, fixed rotations, rest rotations and rest scales", () => {
  const shot = builtShot(
    [
      {
        id: "a",
        translation: [5, 0, 0],
        fixedRotation: [0, 0, Math.SQRT1_2, Math.SQRT1_2],
        scale: [2, 1, 1],
      },
      { id: "b", parent: "a", translation: [1, 0, 0], rotation: [90, 0, 0] },
      { id: "c", parent: "b", translation: [0, 1, 0] },
    ],
    [],
    [0, 1],
    { metresPerUnit: 0.01, up: "z", angle: "degrees" },
  );
  // a turns x to y and stretches along its own x by two: b stands at (5, 2, 0). b turns y to z: c at (5, 2, 1).
  expectNear(restPositionsOf(studyOf(shot)), [5, 0, 0, 5, 2, 0, 5, 2, 1], 1e-14);
});
