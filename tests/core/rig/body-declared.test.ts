import { expect, test } from "vitest";
import { figureOfNode, figuresOf } from "../../../packages/core/rig/body.ts";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { documentOf, studyOf } from "../../support/shots.ts";
import { bipedLines, studyOf as bodyOf, hidden, nameless, nodesFrom, partIds } from "./body-study.ts";

test("a declared part that hangs beside the figure's root belongs to the figure, with all below it", () => {
  const nodes = [
    { id: "place" },
    { id: "hips", parent: "place", translation: [0, 0.95, 0] as [number, number, number] },
    { id: "sole", parent: "place", translation: [0.1, 0.09, 0] as [number, number, number] },
    { id: "tip", parent: "sole", translation: [0, 0, 0.14] as [number, number, number] },
    { id: "box", translation: [2, 0, 0] as [number, number, number] },
  ];
  const figures = [{ id: "walker", stature: 1.7, parts: { root: "hips", leftFoot: "sole" } }];
  const study = studyOf(documentOf(nodes, {}, { range: [1, 12], more: { figures } }));
  const of = (id: string) => figureOfNode(study, rigOf(study).indexOf.get(id) ?? -1);
  expect(figuresOf(study)[0].id).toBe("walker");
  expect([of("hips"), of("sole"), of("tip")]).toEqual([0, 0, 0]);
  expect(of("box")).toBe(-1);
});

test("where limbs are declared, no legs are made up of what hangs as low", () => {
  const nodes = nodesFrom(nameless(bipedLines));
  // Nobody says what they are: the shape of the rest pose does.
  expect(Object.keys(partIds(bodyOf(nodes)))).toContain("leftFoot");
  const fin = (side: "left" | "right") => ({
    id: `${side} fin`,
    kind: "fin" as const,
    side,
    nodes: [hidden(bipedLines, `${side}Hip`), hidden(bipedLines, `${side}Ankle`)],
  });
  const figures = [{ id: hidden(bipedLines, "hips"), limbs: [fin("left"), fin("right")] }];
  expect(Object.keys(partIds(bodyOf(nodes, { figures })))).not.toContain("leftFoot");
});

test("what is called a fin, a wing or an arm is made no leg for hanging low", () => {
  const limbs = ([upper, lower, end]: readonly string[]) =>
    (["l", "r"] as const).flatMap((side) => [
      { id: `${upper}_${side}`, parent: "bust", translation: [side === "l" ? 6 : -6, 0, 0] as const },
      { id: `${lower}_${side}`, parent: `${upper}_${side}`, translation: [0, -14, 0] as const },
      { id: `${end}_${side}`, parent: `${lower}_${side}`, translation: [0, -14, 0] as const },
    ]);
  const bodyWith = (names: readonly string[]) =>
    bodyOf([
      { id: "glove", translation: [0, 0, 0] },
      { id: "bust", parent: "glove", translation: [0, 22, 0] },
      { id: "crown", parent: "bust", translation: [0, 20, 0] },
      ...limbs(names),
    ] as Parameters<typeof bodyOf>[0]);
  // Without names the two chains that hang to the ground are its legs.
  expect(Object.keys(partIds(bodyWith(["a", "b", "c"])))).toContain("leftFoot");
  for (const names of [
    ["fin", "blade", "bladeend"],
    ["wing", "wing2", "wing3"],
    ["arm", "fore", "mitt"],
  ])
    expect(Object.keys(partIds(bodyWith(names))), names[0]).not.toContain("leftFoot");
});
