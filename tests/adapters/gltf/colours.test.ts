import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { coloursOf } from "../../../packages/adapters/gltf/colours.ts";
import { readGltf } from "../../../packages/adapters/gltf/read.ts";
import { writeGltf } from "../../../packages/adapters/gltf/write.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { documentOf } from "../../support/shots.ts";

const material = (...factor: number[]) => ({
  pbrMetallicRoughness: factor.length === 0 ? {} : { baseColorFactor: factor },
});
const mesh = (...materials: (number | undefined)[]) => ({
  primitives: materials.map((index) => ({
    attributes: {},
    ...(index === undefined ? {} : { material: index }),
  })),
});

describe("colours of materials", () => {
  // IEC 61966-2-1: half of linear light is 188 of 255, a fifth 124 (worked out by its formula).
  test("are linear in the file and of the display in the document", () => {
    const materials = [material(0.5, 0.2, 0, 1), material(), material(1, 1, 1, 0.5)];
    const nodes = [{ mesh: 0 }, { mesh: 1 }, { mesh: 2 }, {}];
    const { of, remarks } = coloursOf({ nodes, materials, meshes: [mesh(0), mesh(1), mesh(2)] });
    expect([...of]).toEqual([
      [0, "#bc7c00"],
      [1, "#ffffff"],
      [2, "#ffffff"],
    ]);
    expect(remarks).toEqual([]);
  });

  test("of a skinned mesh are those of the joints that carry the others", () => {
    const nodes = [{ mesh: 0, skin: 0 }, { children: [2] }, { children: [3] }, {}];
    const { of } = coloursOf({
      nodes,
      materials: [material(1, 0, 0, 1)],
      meshes: [mesh(0, 0)],
      skins: [{ joints: [2, 3] }],
    });
    expect([...of]).toEqual([[2, "#ff0000"]]);
  });

  test("of pictures, and several on one mesh, are told and left out; without a material there is none", () => {
    const pictured = { pbrMetallicRoughness: { baseColorTexture: { index: 0 } } };
    const { of, remarks } = coloursOf({
      nodes: [{ mesh: 0 }, { mesh: 1 }, { mesh: 2 }],
      materials: [pictured, material(1, 0, 0, 1), material(0, 1, 0, 1)],
      meshes: [mesh(0), mesh(1, 2), mesh(1, undefined)],
    });
    expect(of.size).toBe(0);
    expect(remarks).toEqual([
      "One mesh has its colour from a picture; none is read of it.",
      "One mesh has several colours; none is read of it.",
    ]);
  });

  test("of whatever stands there instead are none, and nothing throws", () => {
    const part = fc.oneof(fc.jsonValue(), fc.constant([{ mesh: 0, skin: 0, material: 0, primitives: [{}] }]));
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom("nodes", "meshes", "materials", "skins"), part), (data) => {
        for (const colour of coloursOf(data).of.values()) expect(colour).toMatch(/^#[0-9a-f]{6}$/);
      }),
    );
    expect(coloursOf(null).of.size).toBe(0);
  });

  test("come into the document that is read", () => {
    const file = {
      asset: { version: "2.0" },
      nodes: [{ name: "crate", mesh: 0 }],
      meshes: [mesh(0)],
      materials: [material(0.5, 0.2, 0, 1)],
    };
    expect(readGltf(JSON.stringify(file)).shot?.header.nodes).toMatchObject([
      { id: "crate", colour: "#bc7c00" },
    ]);
  });
});

test("what a written file leaves out of the picture is said", async () => {
  const { shot } = shotOf(
    documentOf(
      [
        { id: "eye" },
        { id: "lamp", colour: "#ffe0a0", visible: [[1, 8]], shapes: [{ kind: "sphere", radius: 0.1 }] },
      ],
      { "lamp translation.x": [[1, 0]] },
      {
        more: {
          cameras: [
            { id: "a", node: "eye", verticalFieldOfView: 30, background: "#203040", frames: [1, 4] },
            { id: "b", node: "eye", verticalFieldOfView: 20, frames: [5, 8] },
          ],
        },
      },
    ),
  );
  if (shot === null) throw new Error("not a shot");
  expect((await writeGltf(shot, { file: "a.gltf" })).lost).toEqual([
    "Left out: shapes of nodes, colours of nodes, when nodes are visible.",
    "A camera: its node has another one, or is missing, or it does not say what it sees.",
    "The frames over which 2 cameras hold.",
    "The background of a camera.",
  ]);
});
