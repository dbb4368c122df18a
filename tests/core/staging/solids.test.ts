import { BoxGeometry, Euler, Mesh, Object3D, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { rigOf } from "../../../packages/core/rig/rig.ts";
import { lensOf } from "../../../packages/core/staging/camera.ts";
import { drawablesOf, drawSolids, wholePicture } from "../../../packages/core/staging/draw.ts";
import { bonesOf } from "../../../packages/core/staging/flesh.ts";
import { nothing, Raster } from "../../../packages/core/staging/raster.ts";
import { outlinesOf, pathsOf, solidsOf } from "../../../packages/core/staging/solids.ts";
import { bipedDocument, bipedWithout, documentOf, everyFrame, studyOf } from "../../support/shots.ts";

describe("what can be seen of a shot", () => {
  test("a figure is capsules on its bones; a head or a hand that ends a chain is a ball", () => {
    const study = studyOf(bipedDocument({}));
    const of = (id: string) => rigOf(study).indexOf.get(id) as number;
    const bones = bonesOf(study, 0);
    expect(bones.find(({ from }) => from === of("forearm_l"))).toMatchObject({
      to: of("hand_l"),
      part: "leftForearm",
    });
    expect(bones.some(({ from, to }) => from === to)).toBe(false);
    const plain = studyOf(bipedWithout(/^fingers_l$/, {}));
    const hand = rigOf(plain).indexOf.get("hand_l");
    expect(bonesOf(plain, 0).find(({ from, to }) => from === to && to === hand)?.radius).toBeCloseTo(
      0.054 * 1.7,
      9,
    );
  });

  test("shapes move, turn and scale with their node, as a general 3D library has them", () => {
    const document = documentOf(
      [
        { id: "arm", rotationOrder: "yxz" },
        {
          id: "crate",
          parent: "arm",
          translation: [0.5, 0.2, 0.1],
          scale: [1.5, 0.8, 2],
          shapes: [{ kind: "box", size: [0.3, 0.2, 0.4], centre: [0.1, 0, 0], rotation: [0, 0.6, 0, 0.8] }],
        },
      ],
      {
        "arm rotation.y": everyFrame(1, 5, (frame) => 20 * frame),
        "arm rotation.x": everyFrame(1, 5, (frame) => 7 * frame),
      },
    );
    const study = studyOf(document);
    const [box] = solidsOf(study);
    const paths = pathsOf(study, box);
    expect(paths).toHaveLength(8);
    const arm = new Object3D();
    const crate = new Object3D();
    crate.position.set(0.5, 0.2, 0.1);
    crate.scale.set(1.5, 0.8, 2);
    const mesh = new Mesh(new BoxGeometry(0.3, 0.2, 0.4));
    mesh.position.set(0.1, 0, 0);
    mesh.quaternion.set(0, 0.6, 0, 0.8);
    arm.add(crate.add(mesh));
    for (let i = 0; i < 5; i++) {
      arm.setRotationFromEuler(
        new Euler((7 * (i + 1) * Math.PI) / 180, (20 * (i + 1) * Math.PI) / 180, 0, "YXZ"),
      );
      arm.updateMatrixWorld(true);
      const corner = mesh.localToWorld(new Vector3(0.15, 0.1, 0.2));
      const last = paths[7].subarray(3 * i, 3 * i + 3);
      for (const [k, at] of [corner.x, corner.y, corner.z].entries()) expect(last[k]).toBeCloseTo(at, 9);
    }
  });

  test("a node that has shapes shows them in place of its bones; a ball about a prop is one point", () => {
    const document = bipedDocument({});
    const head = document.nodes.findIndex(({ id }) => id === "head");
    document.nodes[head] = {
      ...document.nodes[head],
      shapes: [{ kind: "sphere", radius: 0.12, centre: [0, 0.1, 0] }],
    };
    document.nodes.push({ id: "ball", translation: [1, 0.3, 0], shapes: [{ kind: "sphere", radius: 0.3 }] });
    const study = studyOf(document);
    const of = (id: string) => solidsOf(study).filter(({ node }) => node === rigOf(study).indexOf.get(id));
    expect(of("head")).toMatchObject([{ part: "head", radius: 0.12, figure: 0 }]);
    expect(of("ball")).toMatchObject([{ figure: -1, radius: 0.3 }]);
    expect(pathsOf(study, of("head")[0])[0][1]).toBeCloseTo(1.63, 9);
  });

  test("surfaces have their edges, where a node carries them too", () => {
    const document = documentOf(
      [{ id: "lift", translation: [0, 1, 0] }],
      { "lift translation.y": everyFrame(1, 3, (frame) => frame) },
      {
        more: {
          surfaces: [
            {
              id: "floor",
              height: 0.2,
              edges: [
                [-1, -2],
                [3, 4],
              ],
            },
            {
              id: "lid",
              node: "lift",
              height: 0.5,
              edges: [
                [0, 0],
                [1, 0],
                [1, 1],
              ],
            },
            { id: "everywhere", height: 0 },
          ],
        },
      },
    );
    const [floor, lid, ...more] = outlinesOf(studyOf(document));
    expect(more).toEqual([]);
    expect(floor.corners.map((path) => [...path.subarray(0, 3)])).toEqual([
      [-1, 0.2, -2],
      [3, 0.2, -2],
      [3, 0.2, 4],
      [-1, 0.2, 4],
    ]);
    expect([...lid.corners[1].subarray(6, 9)]).toEqual([1, 3.5, 0]);
  });

  test("two figures are drawn with the nearer one in front, the hidden one not at all, in one raster for all frames", () => {
    const nodes = ["near", "far"].map((id, k) => ({
      id,
      translation: [0.1 * k, 0, -3 - k] as [number, number, number],
      shapes: [{ kind: "sphere" as const, radius: 0.5 }],
      ...(k === 0 ? { visible: [[1, 2] as [number, number]] } : {}),
    }));
    const study = studyOf(
      documentOf(
        [...nodes, { id: "eye" }],
        { "eye translation.x": everyFrame(1, 3, () => 0) },
        {
          more: { cameras: [{ id: "shotcam", node: "eye", verticalFieldOfView: 40, aspect: 1.5 }] },
        },
      ),
    );
    const lens = lensOf(study)!;
    const raster = new Raster(96, 64);
    const drawables = drawablesOf(study, solidsOf(study));
    const middle = 32 * 96 + 48;
    const seen = [0, 2].map((sample) => {
      drawSolids(study, lens, drawables, sample, wholePicture(lens, sample, raster), raster);
      return [raster.owner[middle], raster.owner.filter((owner) => owner !== nothing).length];
    });
    expect(seen[0][0]).toBe(0);
    expect(seen[1][0]).toBe(1);
    // A ball of half a metre at 4 m in a picture 64 high that sees 40°.
    const radius = (0.5 * 32) / (4 * Math.tan((20 * Math.PI) / 180));
    expect(Math.abs(seen[1][1] - Math.PI * radius ** 2)).toBeLessThan(12);
  });
});
