import { describe, expect, test } from "vitest";
import type { NodeSpec } from "../../../../packages/core/document/schema.ts";
import { expectQuietOnBarren } from "../../../support/quiet.ts";
import {
  bipedFigure,
  bipedNodes,
  type Curves,
  documentOf,
  eased,
  everyFrame,
  notesOfCheck,
} from "../../../support/shots.ts";

const tail: NodeSpec[] = [
  { id: "tail_1", parent: "hips", translation: [0, 0, -0.1] },
  { id: "tail_2", parent: "tail_1", translation: [0, 0, -0.15] },
  { id: "tail_3", parent: "tail_2", translation: [0, 0, -0.15] },
];
const hair: NodeSpec[] = [
  { id: "hair_1", parent: "head", translation: [0, 0.1, -0.1] },
  { id: "hair_2", parent: "hair_1", translation: [0, -0.15, 0] },
];

const sway = (late: number, size: number) =>
  everyFrame(1, 96, (f) => size * Math.sin((2 * Math.PI * (f - late)) / 32));

function drags(curves: Curves) {
  const figures = [
    {
      ...bipedFigure,
      parts: { ...bipedFigure.parts, tail: ["tail_1", "tail_2", "tail_3"], hair: ["hair_1", "hair_2"] },
    },
  ];
  return notesOfCheck(
    documentOf([...bipedNodes, ...tail, ...hair], curves, { more: { figures } }),
    "no-drag",
  );
}

describe("no-drag", () => {
  test("finds a tail that is stiff while the hips swing", () => {
    const found = drags({ "hips rotation.y": sway(0, 30) });
    expect(found).toMatchObject([{ node: "tail_1" }]);
    expect(found[0].message).toContain("whatever hips does");
  });

  test("finds links that all move at once", () => {
    const found = drags({
      "hips rotation.y": sway(0, 30),
      "tail_1 rotation.y": sway(0, 10),
      "tail_2 rotation.y": sway(0, 10),
      "tail_3 rotation.y": sway(0, 10),
    });
    expect(found).toHaveLength(1);
    expect(found[0].measured).toMatchObject({ quantity: "lag behind the carrier", unit: "frames" });
    expect(found[0].measured.value).toBeLessThan(0.5);
  });

  test("is silent on a tail that drags more and more, and on hair without curves", () => {
    // Each link turns against its parent so that in the world it follows two frames later.
    const world = (k: number) => (f: number) => 30 * Math.sin((2 * Math.PI * (f - 2 * k)) / 32);
    const link = (k: number) => everyFrame(1, 96, (f) => world(k)(f) - world(k - 1)(f));
    expect(
      drags({
        "hips rotation.y": sway(0, 30),
        "tail_1 rotation.y": link(1),
        "tail_2 rotation.y": link(2),
        "tail_3 rotation.y": link(3),
      }),
    ).toEqual([]);
    expect(drags({ "head rotation.y": everyFrame(1, 96, eased(20, 40, 0, 50)) })).toEqual([]);
  });

  test("takes a tip without curves for the end of the last link", () => {
    const world = (k: number) => (f: number) => 30 * Math.sin((2 * Math.PI * (f - 2 * k)) / 32);
    const link = (k: number) => everyFrame(1, 96, (f) => world(k)(f) - world(k - 1)(f));
    expect(
      drags({ "hips rotation.y": sway(0, 30), "tail_1 rotation.y": link(1), "tail_2 rotation.y": link(2) }),
    ).toEqual([]);
  });

  test("finds hair that is keyed and still does not answer", () => {
    const found = drags({
      "head rotation.y": sway(0, 35),
      "hair_1 rotation.x": everyFrame(1, 96, (f) => 0.3 * Math.sin(f)),
    });
    expect(found).toMatchObject([{ node: "hair_1" }]);
  });

  test("is silent on hanging hair that the head turns about its own length", () => {
    // It goes with the head's turn, as it must, and swings a little late.
    const swings = everyFrame(1, 96, (f) => 4 * Math.sin((2 * Math.PI * (f - 3)) / 32));
    expect(drags({ "head rotation.y": sway(0, 35), "hair_1 rotation.x": swings })).toEqual([]);
  });

  test("is silent where the carrier hardly moves", () => {
    expect(drags({ "hips rotation.y": sway(0, 2) })).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () => expectQuietOnBarren("no-drag"));
});

describe("competing-moves", () => {
  const second = bipedNodes.map((node) => ({
    ...node,
    id: `b_${node.id}`,
    ...(node.parent === undefined
      ? { translation: [3, 0.95, 0] as [number, number, number] }
      : { parent: `b_${node.parent}` }),
  }));
  const parts = Object.fromEntries(
    Object.entries(bipedFigure.parts ?? {}).map(([part, node]) => [part, `b_${node}`]),
  );
  const figures = [bipedFigure, { ...bipedFigure, id: "other", parts }];
  const step = (from: number, to: number, size: number, base = 0) =>
    everyFrame(1, 72, (f) => base + eased(from, to, 0, size)(f));
  const rivals = (curves: Curves) =>
    notesOfCheck(documentOf([...bipedNodes, ...second], curves, { more: { figures } }), "competing-moves");

  test("finds two figures that make their big move at the same moment", () => {
    const found = rivals({
      "hips translation.z": step(20, 36, 1.2),
      "b_hips translation.z": step(21, 37, 1),
    });
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ figure: "other", node: "b_hips" });
    expect(found[0].frames[0]).toBeGreaterThanOrEqual(26);
    expect(found[0].frames[1]).toBeLessThanOrEqual(31);
    expect(found[0].keys[0]).toMatchObject({ node: "b_hips", channel: "translation.z" });
  });

  test("takes the largest peak of a move that goes up and down", () => {
    const twice = (small: [number, number], large: [number, number]) =>
      everyFrame(1, 72, (f) => eased(...small, 0, 1)(f) + eased(...large, 0, 1.6)(f));
    // Each starts with a smaller peak; only the larger ones come at one time.
    const found = rivals({
      "hips translation.z": twice([6, 24], [20, 36]),
      "b_hips translation.z": twice([12, 30], [20, 36]),
    });
    expect(found).toHaveLength(1);
    expect(found[0].frames[0]).toBeGreaterThanOrEqual(25);
    expect(found[0].frames[1]).toBeLessThanOrEqual(30);
  });

  test("is silent on a reaction, on small moves, and where the two stand together", () => {
    expect(
      rivals({ "hips translation.z": step(10, 26, 1.2), "b_hips translation.z": step(30, 46, 1) }),
    ).toEqual([]);
    expect(
      rivals({ "hips translation.z": step(20, 36, 1.2), "b_hips translation.z": step(20, 36, 0.2) }),
    ).toEqual([]);
    expect(
      rivals({
        "hips translation.z": step(20, 36, 1.2),
        "b_hips translation.z": step(20, 36, 1),
        "b_hips translation.x": everyFrame(1, 72, () => 0.8),
      }),
    ).toEqual([]);
    expect(rivals({ "hips translation.z": step(20, 36, 1.2) })).toEqual([]);
  });

  test("says nothing about documents with next to nothing in them", () =>
    expectQuietOnBarren("competing-moves"));
});
