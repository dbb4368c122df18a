import { WebIO } from "@gltf-transform/core";
import fc from "fast-check";
import validator from "gltf-validator";
import { describe, expect, it } from "vitest";
import { gltfAdapter } from "../../../packages/adapters/gltf/adapter.ts";
import { readGltf } from "../../../packages/adapters/gltf/index.ts";
import { writeGltf } from "../../../packages/adapters/gltf/write.ts";
import type { Shot } from "../../../packages/core/document/model.ts";
import { shotOf } from "../../../packages/core/document/read.ts";
import { anyShot } from "../../support/any-shot.ts";
import { capturedJump } from "../../support/capture.ts";
import { worldDistance } from "../../support/world-distance.ts";

const bytesOf = (content: string | Uint8Array) =>
  typeof content === "string" ? new TextEncoder().encode(content) : content;

async function written(shot: Shot, file = "a.glb", isBaked = false): Promise<Uint8Array> {
  const { files } = await writeGltf(shot, { file, isBaked });
  expect(files.map(({ name }) => name)).toEqual([file]);
  return bytesOf(files[0].content);
}

function back(bytes: Uint8Array): Shot {
  const { shot, problems } = readGltf(bytes);
  expect(problems).toEqual([]);
  return shot as Shot;
}

/** What the validator of the Khronos Group, who publish the format, counts as an error or a warning. */
async function faultsIn(bytes: Uint8Array): Promise<unknown[]> {
  const { issues } = await validator.validateBytes(bytes);
  return issues.messages.filter(({ severity }: { severity: number }) => severity < 2);
}

describe("glTF that is written", () => {
  it("is clean under the Khronos validator, and is read back within 1e-5 m", async () => {
    await fc.assert(
      fc.asyncProperty(
        anyShot(),
        fc.constantFrom("a.glb", "a.gltf"),
        fc.boolean(),
        async (shot, file, isBaked) => {
          const bytes = await written(shot, file, isBaked);
          expect(await faultsIn(bytes)).toEqual([]);
          const again = back(bytes);
          expect(again.range).toEqual(shot.range);
          expect(again.frameRate).toEqual(shot.frameRate);
          expect(worldDistance(shot, again)).toBeLessThan(1e-5);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("holds a captured jump within 1e-5 m", async () => {
    const jump = capturedJump();
    const space = { angle: "degrees" as const, metresPerUnit: 0.01 };
    const declared: Shot = { ...jump, header: { ...jump.header, space } };
    const bytes = await written(declared);
    expect(await faultsIn(bytes)).toEqual([]);
    expect(worldDistance(declared, back(bytes))).toBeLessThan(1e-5);
  });

  it("keeps keys that the format has: step, linear and cubic", async () => {
    const keys = (interpolation: "step" | "linear" | "cubic"): Shot => {
      const slopes = interpolation === "cubic" ? { in: 0.5, out: -0.25 } : undefined;
      const key = (frame: number, value: number) =>
        (slopes === undefined ? [frame, value] : [frame, value, slopes]) as [number, number];
      return shotOf({
        format: "keyside.curves",
        version: 1,
        shot: { frameRate: 24, range: [1, 25] },
        space: { metresPerUnit: 0.5, up: "z" },
        nodes: [{ id: "a", translation: [1, 2, 3] }],
        curves: [
          { node: "a", channel: "translation.x", interpolation, keys: [key(1, 0), key(9, 4), key(25, 2)] },
        ],
      }).shot as Shot;
    };
    for (const interpolation of ["step", "linear", "cubic"] as const) {
      const { files, lost } = await writeGltf(keys(interpolation), { file: "a.glb" });
      expect(lost).toEqual([]);
      const x = back(bytesOf(files[0].content)).curves.find(({ channel }) => channel === "translation.x");
      expect(x?.interpolation).toBe(interpolation);
      expect([...(x?.frames ?? [])]).toEqual([1, 9, 25]);
      expect([...(x?.values ?? [])]).toEqual([0, 2, 1]);
      if (interpolation === "cubic") expect(x?.handles?.[4 + 1]).toBeCloseTo(0.25, 6);
    }
  });

  it("says what it could not carry", async () => {
    const { shot } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      space: { metresPerUnit: 1 },
      nodes: [{ id: "a" }],
      surfaces: [{ id: "floor", height: 0 }],
      curves: [
        {
          node: "a",
          channel: "translation.y",
          interpolation: "smooth",
          keys: [
            [1, 0],
            [5, 2],
            [9, 1],
          ],
        },
      ],
    });
    const { lost } = await writeGltf(shot as Shot, { file: "a.gltf" });
    expect(lost).toEqual([
      "Left out: surfaces.",
      "A channel has keys that glTF has no room for; it is written frame by frame.",
    ]);
  });

  it("carries cameras of both kinds", async () => {
    const { shot } = shotOf({
      format: "keyside.curves",
      version: 1,
      shot: { frameRate: 24 },
      space: { metresPerUnit: 0.01 },
      nodes: [{ id: "lens" }, { id: "plan" }],
      cameras: [
        { id: "lens", node: "lens", verticalFieldOfView: 40, aspect: 1.5, near: 10, far: 5000 },
        { id: "plan", node: "plan", verticalExtent: 300, aspect: 2 },
      ],
      curves: [],
    });
    const bytes = await written(shot as Shot);
    expect(await faultsIn(bytes)).toEqual([]);
    const [lens, plan] = readGltf(bytes).shot?.header.cameras ?? [];
    expect(lens).toMatchObject({ id: "lens", node: "lens", aspect: 1.5, near: 0.1, far: 50 });
    expect(lens.verticalFieldOfView).toBeCloseTo(40, 9);
    expect(plan).toMatchObject({ id: "plan", verticalExtent: 3, aspect: 2 });
  });

  it("is read alike by a general library for the format", async () => {
    await fc.assert(
      fc.asyncProperty(anyShot(), async (shot) => {
        const bytes = await written(shot);
        const document = await new WebIO().readBinary(bytes);
        const own = readGltf(bytes).shot as Shot;
        expect(
          document
            .getRoot()
            .listNodes()
            .map((one) => one.getName()),
        ).toEqual(own.header.nodes.map(({ id }) => id));
        const channels = document
          .getRoot()
          .listAnimations()
          .flatMap((one) => one.listChannels());
        const width = (path: string | null) => (path === "rotation" ? 1 : 3);
        expect(own.curves.length).toBe(channels.reduce((sum, one) => sum + width(one.getTargetPath()), 0));
      }),
      { numRuns: 20 },
    );
  });
});

describe("the adapter of glTF", () => {
  it("knows its files by their bytes, and no others", async () => {
    const shot = fc.sample(anyShot(), 1)[0];
    for (const file of ["a.glb", "a.gltf"]) expect(gltfAdapter.detect(await written(shot, file))).toBe(true);
    for (const text of ["HIERARCHY\nROOT a", "frame,a.translation.x\n1,2", "", "PK\u0003\u0004"]) {
      expect(gltfAdapter.detect(new TextEncoder().encode(text))).toBe(false);
    }
  });
});
