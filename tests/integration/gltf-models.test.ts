import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import validator from "gltf-validator";
import { AnimationMixer, type Object3D, Vector3 } from "three";
import { type GLTF, GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { gltfAdapter } from "../../packages/adapters/gltf/adapter.ts";
import { chunksOf, jsonOf } from "../../packages/adapters/gltf/bytes.ts";
import type { Shot } from "../../packages/core/document/model.ts";
import { Workshop } from "../server/cli/run-in-process.ts";
import { worldDistance, worldPositions } from "../support/world-distance.ts";

// Models of the Debian package assimp-testmodels: files of many programs, sound ones and broken ones.

const root = "/usr/share/assimp/models/glTF2";
const models = existsSync(root)
  ? readdirSync(root, { recursive: true, encoding: "utf8" }).filter((name) => /\.(gltf|glb)$/.test(name))
  : [];

const beside = (name: string) => (uri: string) => {
  const path = join(root, dirname(name), decodeURIComponent(uri));
  return existsSync(path) ? new Uint8Array(readFileSync(path)) : { why: "It is not there." };
};

/** Errors by which the format's own publisher tells that a file is not legal. */
async function errorsIn(name: string): Promise<number> {
  const { issues } = await validator.validateBytes(new Uint8Array(readFileSync(join(root, name))), {
    externalResourceFunction: async (uri) => {
      const found = beside(name)(uri);
      if ("why" in found) throw new Error(found.why);
      return found;
    },
  });
  return issues.messages.filter(({ severity }) => severity === 0).length;
}

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

test("the models are installed", () => {
  expect(models.length).toBeGreaterThan(40);
});

describe("glTF models by command", () => {
  test("each legal one is read, and nothing in it is broken; none ends the program otherwise than by its exit codes", async () => {
    let legal = 0;
    const faults: string[] = [];
    for (const name of models) {
      const isLegal = (await errorsIn(name)) === 0;
      const path = join(root, name);
      const { code, stdout } = await shop.run(["check", path, "--no-cache", "--format", "json"]);
      expect([0, 1, 3], name).toContain(code);
      if (!isLegal) continue;
      legal++;
      const [shot] = JSON.parse(stdout).shots ?? [];
      const broken = shot?.notes.filter(({ tier }: { tier: string }) => tier === "broken").length;
      if (code !== 0 || broken !== 0) faults.push(`${name}: exit ${code}, ${broken} broken`);
    }
    expect(faults).toEqual([]);
    expect(legal).toBeGreaterThan(25);
  });
});

/** The document without all that needs a screen, with its buffers in it, as a general 3D library's loader takes it. */
function bare(name: string): ArrayBuffer {
  const bytes = new Uint8Array(readFileSync(join(root, name)));
  const document = JSON.parse(jsonOf(bytes));
  for (const part of [
    "meshes",
    "materials",
    "textures",
    "images",
    "samplers",
    "skins",
    "extensionsUsed",
    "extensionsRequired",
  ]) {
    delete document[part];
  }
  for (const node of document.nodes ?? []) {
    delete node.mesh;
    delete node.skin;
  }
  // One buffer in the file itself: the loader would fetch others.
  const starts: number[] = [];
  const pieces: Buffer[] = [];
  for (const { uri, byteLength } of document.buffers ?? []) {
    starts.push(pieces.reduce((sum, { length }) => sum + length, 0));
    const piece = Buffer.alloc(Math.ceil(byteLength / 4) * 4);
    piece.set(bufferOf(name, uri, bytes).subarray(0, byteLength));
    pieces.push(piece);
  }
  for (const view of document.bufferViews ?? []) {
    view.byteOffset = (view.byteOffset ?? 0) + starts[view.buffer];
    view.buffer = 0;
  }
  const binary = Buffer.concat(pieces);
  document.buffers = [{ byteLength: binary.length }];
  // Weights of morph targets need the meshes that were taken out.
  for (const animation of document.animations ?? []) {
    animation.channels = animation.channels.filter(
      ({ target }: { target: { path: string } }) => target.path !== "weights",
    );
  }
  document.animations = document.animations?.filter(({ channels }: { channels: [] }) => channels.length > 0);
  if (document.animations?.length === 0) delete document.animations;
  // Nodes in no scene are not loaded.
  const children = new Set(
    (document.nodes ?? []).flatMap((node: { children?: number[] }) => node.children ?? []),
  );
  const roots = Object.keys(document.nodes ?? {})
    .map(Number)
    .filter((index) => !children.has(index));
  document.scenes = [{ nodes: roots }];
  document.scene = 0;
  const json = Buffer.from(JSON.stringify(document));
  return packed(Buffer.concat([json, Buffer.alloc((4 - (json.length % 4)) % 4, 0x20)]), binary);
}

/** Bytes of a buffer, wherever they stand. */
function bufferOf(name: string, uri: string | undefined, file: Uint8Array): Uint8Array {
  if (uri === undefined) return chunksOf(file)?.binary ?? new Uint8Array();
  if (uri.startsWith("data:")) return Buffer.from(uri.replace(/^[^,]*,/, ""), "base64");
  const found = beside(name)(uri);
  return "why" in found ? new Uint8Array() : found;
}

/** A file of bytes (glTF 2.0, section 4.4). */
function packed(json: Buffer, binary: Buffer): ArrayBuffer {
  const words = (...numbers: readonly number[]) => Buffer.from(Uint32Array.from(numbers).buffer);
  const length = 12 + 8 + json.length + (binary.length === 0 ? 0 : 8 + binary.length);
  const file = Buffer.concat([
    words(0x46546c67, 2, length, json.length, 0x4e4f534a),
    json,
    ...(binary.length === 0 ? [] : [words(binary.length, 0x004e4942), binary]),
  ]);
  return Uint8Array.from(file).buffer;
}

describe("positions of the models' nodes", () => {
  // What the loader does not take, or takes for something else, is told apart by the validator above.
  test("are those of a general 3D library, on every frame", async () => {
    let compared = 0;
    let animated = 0;
    let worst = 0;
    for (const name of models) {
      if ((await errorsIn(name)) > 0) continue;
      const bytes = new Uint8Array(readFileSync(join(root, name)));
      const { shot } = gltfAdapter.read?.(bytes, beside(name), { file: basename(name) }) ?? { shot: null };
      const gltf = await loaded(bare(name));
      const objects = new Map<number, Object3D>();
      for (const [object, { nodes }] of gltf.parser.associations as Map<Object3D, { nodes?: number }>) {
        if (nodes !== undefined) objects.set(nodes, object);
      }
      const own = worldPositions(shot as Shot);
      const [first, last] = (shot as Shot).range;
      const [clip] = gltf.animations;
      const mixer = new AnimationMixer(gltf.scene);
      if (clip !== undefined) mixer.clipAction(clip).play();
      if (clip !== undefined && last > first) animated++;
      for (let frame = first; frame <= last; frame++) {
        // The end of a clip is its beginning again, where it repeats.
        const seconds = Math.min(frame / 24, (clip?.duration ?? 0) - 1e-6);
        if (clip !== undefined) mixer.setTime(Math.max(0, seconds));
        gltf.scene.updateMatrixWorld(true);
        (shot as Shot).header.nodes.forEach(({ id }, index) => {
          const there = new Vector3().setFromMatrixPosition(objects.get(index)?.matrixWorld as never);
          const at = 3 * (frame - first);
          const here = new Vector3().fromArray([...(own.get(id) as Float64Array).subarray(at, at + 3)]);
          const size = Math.max(1, there.length());
          worst = Math.max(worst, here.distanceTo(there) / size);
          compared++;
        });
      }
    }
    expect(animated).toBeGreaterThan(0);
    expect(compared).toBeGreaterThan(300);
    // Matrices of the library hold double precision, quaternions of the file single: some 6e-8 each.
    expect(worst).toBeLessThan(1e-5);
  }, 60_000);

  test("stay within 1e-5 m when a model is written and read again", async () => {
    let written = 0;
    for (const name of models) {
      if ((await errorsIn(name)) > 0) continue;
      const bytes = new Uint8Array(readFileSync(join(root, name)));
      const shot = gltfAdapter.read?.(bytes, beside(name), {}).shot as Shot;
      if (shot.header.nodes.length === 0) continue;
      const result = await gltfAdapter.write?.(shot, { file: "a.glb" });
      const content = result?.files[0]?.content as Uint8Array;
      const { issues } = await validator.validateBytes(content);
      expect(
        issues.messages.filter(({ severity }) => severity < 2),
        name,
      ).toEqual([]);
      const again = gltfAdapter.read?.(content, beside(name), {}).shot as Shot;
      const reach = Math.max(
        1,
        ...[...worldPositions(shot).values()].flatMap((one) => [...one].map(Math.abs)),
      );
      expect(worldDistance(shot, again) / reach, name).toBeLessThan(1e-5);
      written++;
    }
    expect(written).toBeGreaterThan(25);
  });
});

function loaded(file: ArrayBuffer): Promise<GLTF> {
  return new Promise((resolve, reject) => new GLTFLoader().parse(file, "", resolve, reject));
}
