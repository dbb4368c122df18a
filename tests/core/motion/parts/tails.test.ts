import { describe, expect, test } from "vitest";
import type { NodeSpec } from "../../../../packages/core/document/schema.ts";
import { documentOf } from "../../../../packages/core/faults/shared/examples/motions.ts";
import { looseChainsOf } from "../../../../packages/core/motion/parts/loose-chain.ts";
import { tailsByShape } from "../../../../packages/core/motion/parts/tails.ts";
import { rigOf } from "../../../../packages/core/rig/rig.ts";
import { studyOf } from "../../../support/shots.ts";

/** Nodes of a chain that go on from each other by one offset. */
function chain(parent: string, names: readonly string[], offset: [number, number, number]): NodeSpec[] {
  return names.map((id, k) => ({ id, parent: k === 0 ? parent : names[k - 1], translation: offset }));
}

const behind = chain("trunk", ["a1", "a2", "a3", "a4"], [0, 0, -0.2]);
/** Four of them: two would be those of a body that stands upright. */
const legs = [
  ...chain("trunk", ["b1", "b2", "b3"], [0.1, -0.3, -0.02]),
  ...chain("trunk", ["c1", "c2", "c3"], [-0.1, -0.3, -0.02]),
  ...chain("trunk", ["d1", "d2", "d3"], [0.1, -0.3, 0.2]),
  ...chain("trunk", ["e1", "e2", "e3"], [-0.1, -0.3, 0.2]),
];

/** A body along z, whose head is in front, with chains on its root whose names tell nothing. */
function animal(
  more: readonly NodeSpec[],
  document: object = {},
  front: [number, number, number] = [0, 0.1, 0.6],
) {
  const nodes: NodeSpec[] = [
    { id: "trunk", translation: [0, 1, 0] },
    { id: "front", parent: "trunk", translation: front },
    ...more,
  ];
  const figures = [{ id: "animal", parts: { root: ["trunk"], head: ["front"] } }];
  return studyOf(documentOf(nodes, {}, { more: { figures, ...document } }));
}

function tailOf(study: ReturnType<typeof animal>): string[] {
  return tailsByShape(study, 0).flatMap((joints) => joints.map((node) => rigOf(study).ids[node]));
}

describe("a tail by its shape", () => {
  test("is the chain that goes on behind the root, away from the head", () => {
    expect(tailOf(animal([...behind, ...legs]))).toEqual(["a1", "a2", "a3", "a4"]);
  });

  test("is none that comes in pairs, hangs down beside the body or branches", () => {
    expect(tailOf(animal(legs))).toEqual([]);
    expect(tailOf(animal([...behind, ...chain("trunk", ["f1", "f2", "f3"], [0, 0, -0.1])]))).toEqual([]);
    expect(tailOf(animal([...behind, ...chain("a2", ["g1"], [0, 0.1, 0])]))).toEqual([]);
  });

  test("is none on a body that stands upright", () => {
    expect(tailOf(animal(behind, {}, [0, 0.9, 0.2]))).toEqual([]);
  });

  test("hangs loose, but not in the water", () => {
    expect(looseChainsOf(animal(behind), 0).map(({ part }) => part)).toEqual(["chain"]);
    expect(looseChainsOf(animal(behind, { surroundings: [{ medium: "water" }] }), 0)).toEqual([]);
  });
});

test("a tail that a figure declares among its limbs hangs loose, wherever it goes", () => {
  const aside = chain("trunk", ["a1", "a2", "a3", "a4"], [0.2, 0, 0]);
  const limbs = [{ id: "tail", kind: "tail", nodes: ["a1", "a2", "a3"] }];
  const figures = [{ id: "animal", parts: { root: ["trunk"], head: ["front"] }, limbs }];
  expect(looseChainsOf(animal(aside), 0)).toEqual([]);
  const study = animal(aside, { figures });
  const [tail] = looseChainsOf(study, 0);
  expect(tail.joints.map((node) => rigOf(study).ids[node])).toEqual(["a1", "a2", "a3"]);
});
