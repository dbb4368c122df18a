import type { Problems } from "../problems.ts";
import type { GltfDocument } from "./document.ts";

/*
 * What stands in a glTF document is somebody else's: each member that is read is held against what the specification
 * says of it (glTF 2.0, chapter 5) before it is. One that is not so is told of with its path, and left out.
 */

type Kind = (value: unknown) => boolean;

const index: Kind = (value) => Number.isSafeInteger(value) && (value as number) >= 0;
const text: Kind = (value) => typeof value === "string";
const flag: Kind = (value) => typeof value === "boolean";
const number: Kind = (value) => typeof value === "number" && Number.isFinite(value);
const list: Kind = (value) => Array.isArray(value);
const object: Kind = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
const atLeastOne: Kind = (value) => index(value) && (value as number) >= 1;
const stride: Kind = (value) => index(value) && (value as number) >= 4 && (value as number) <= 252;

const inWords = new Map<Kind, string>([
  [index, "a whole number from 0 on"],
  [text, "a text"],
  [flag, "true or false"],
  [number, "a finite number"],
  [list, "a list"],
  [object, "an object"],
  [atLeastOne, "a whole number from 1 on"],
  [stride, "a whole number from 4 to 252"],
]);

type Members = Readonly<Record<string, Kind>>;

const lists: Readonly<Record<string, Members>> = {
  nodes: {
    name: text,
    children: list,
    translation: list,
    rotation: list,
    scale: list,
    matrix: list,
    camera: index,
  },
  animations: { name: text, channels: list, samplers: list },
  accessors: {
    bufferView: index,
    byteOffset: index,
    componentType: index,
    normalized: flag,
    count: atLeastOne,
    type: text,
    sparse: object,
  },
  bufferViews: {
    buffer: index,
    byteOffset: index,
    byteLength: atLeastOne,
    byteStride: stride,
    extensions: object,
  },
  buffers: { uri: text, byteLength: atLeastOne },
  cameras: { name: text, perspective: object, orthographic: object },
  skins: { name: text, joints: list },
};

const channel: Members = { sampler: index, target: object };
const target: Members = { node: index, path: text, extensions: object };
const sampler: Members = { input: index, output: index, interpolation: text };
const perspective: Members = { yfov: number, aspectRatio: number, znear: number, zfar: number };
const orthographic: Members = { xmag: number, ymag: number, znear: number, zfar: number };
const sparse: Members = { count: atLeastOne, indices: object, values: object };
const sparseIndices: Members = { bufferView: index, byteOffset: index, componentType: index };
const sparseValues: Members = { bufferView: index, byteOffset: index };

/**
 * A document of which every member that is read has its kind.
 * @returns null where it is no glTF document: no object, or with something else than lists of objects
 */
export function shapedDocument(value: unknown, problems: Problems): GltfDocument | null {
  if (!object(value)) return null;
  const given = value as Readonly<Record<string, unknown>>;
  const document: Record<string, unknown> = {};
  for (const [name, members] of Object.entries(lists)) {
    if (given[name] === undefined) continue;
    const entries = objectsIn(given[name]);
    if (entries === null) return null;
    document[name] = entries.map((entry, i) => shaped(entry, members, `${name}/${i}`, problems));
  }
  for (const [i, animation] of ((document["animations"] ?? []) as Shaped[]).entries()) {
    for (const [name, members] of [
      ["channels", channel],
      ["samplers", sampler],
    ] as const) {
      const entries = objectsIn(animation[name] ?? []);
      if (entries === null) return null;
      const path = `animations/${i}/${name}`;
      animation[name] = entries.map((entry, k) => shaped(entry, members, `${path}/${k}`, problems));
    }
    (animation["channels"] as Shaped[]).forEach((one, k) => {
      if (one["target"] === undefined) one["target"] = {};
      const path = `animations/${i}/channels/${k}/target`;
      one["target"] = shaped(one["target"] as Shaped, target, path, problems);
    });
  }
  for (const [i, node] of ((document["nodes"] ?? []) as Shaped[]).entries()) {
    const children = node["children"] as unknown[] | undefined;
    if (children?.every(index) === false) {
      problems.add(
        "bad-value",
        `The children of node ${i} have to be whole numbers from 0 on.`,
        0,
        0,
        `nodes/${i}/children`,
      );
      node["children"] = children.filter(index);
    }
  }
  for (const [i, camera] of ((document["cameras"] ?? []) as Shaped[]).entries()) {
    reshape(camera, "perspective", perspective, `cameras/${i}`, problems);
    reshape(camera, "orthographic", orthographic, `cameras/${i}`, problems);
  }
  for (const [i, accessor] of ((document["accessors"] ?? []) as Shaped[]).entries()) {
    reshape(accessor, "sparse", sparse, `accessors/${i}`, problems);
    const within = accessor["sparse"] as Shaped | undefined;
    if (within === undefined) continue;
    reshape(within, "indices", sparseIndices, `accessors/${i}/sparse`, problems);
    reshape(within, "values", sparseValues, `accessors/${i}/sparse`, problems);
  }
  const { asset } = given;
  const { version, extras } = object(asset) ? (asset as Shaped) : ({} as Shaped);
  return {
    ...document,
    asset: { ...(text(version) ? { version: version as string } : {}), extras },
  } as GltfDocument;
}

type Shaped = Record<string, unknown>;

function objectsIn(value: unknown): Shaped[] | null {
  return Array.isArray(value) && value.every(object) ? (value as Shaped[]) : null;
}

/** A copy of the members that are read, without those that have another kind. */
function shaped(entry: Shaped, members: Members, path: string, problems: Problems): Shaped {
  const result: Shaped = {};
  for (const [name, kind] of Object.entries(members)) {
    if (!Object.hasOwn(entry, name) || entry[name] === undefined) continue;
    if (kind(entry[name])) result[name] = entry[name];
    else {
      const message = `"${name}" has to be ${inWords.get(kind)}; it is left out.`;
      problems.add("bad-value", message, 0, 0, `${path}/${name}`);
    }
  }
  return result;
}

/** Shapes a member that is an object of its own, where it is there. */
function reshape(holder: Shaped, name: string, members: Members, path: string, problems: Problems): void {
  if (holder[name] === undefined) return;
  holder[name] = shaped(holder[name] as Shaped, members, `${path}/${name}`, problems);
}
