import { type Curve, inDegrees, type ReadResult, type Shot } from "@keyside/core";
import { jsonFault } from "@keyside/core/internal";
import { rateOfNumber, writtenRate } from "../frame-rate.ts";
import { Problems } from "../problems.ts";
import { plainZeros } from "../zeros.ts";
import { Accessors } from "./accessors.ts";
import { chunksOf, textOf } from "./bytes.ts";
import { curvesOf } from "./curves.ts";
import type { GltfDocument } from "./document.ts";
import { nodesOf } from "./nodes.ts";
import { shapedDocument } from "./shape.ts";

export interface GltfOptions {
  /** Frames per second; glTF counts in seconds. 24 if left out (common practice). */
  readonly rate?: number;
  readonly name?: string;
  /** Keys of all curves together that are made at most; 20 million if left out. */
  readonly mostKeys?: number;
  /** Index of the animation; the first one if left out. */
  readonly animation?: number;
  /** Bytes of a buffer that stands in a file of its own; null where there is none. */
  readonly resolve?: (uri: string) => Uint8Array | null;
}

/**
 * Reads nodes, perspective cameras and one animation of a glTF 2.0 file: JSON text (.gltf) or bytes of either kind
 * (.gltf, .glb). Lengths are metres, y up, as the format has it; key frames are seconds times rate. Rest rotations
 * become degrees in the order xyz; animated rotations stay quaternions.
 */
export function readGltf(source: string | Uint8Array, options: GltfOptions = {}): ReadResult {
  const problems = new Problems();
  const nothing = (code: string, message: string): ReadResult => {
    problems.add(code, message);
    return { shot: null, problems: problems.all(), places: new Map() };
  };
  const chunks = typeof source === "string" ? null : chunksOf(source);
  const text = typeof source === "string" ? source : (chunks?.json ?? textOf(source));
  let data: unknown;
  try {
    data = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  } catch {
    const { message, start } = jsonFault(text);
    problems.add("json", `This is no glTF. ${message}`, start);
    return { shot: null, problems: problems.all(), places: new Map() };
  }
  const document = shapedDocument(data, problems);
  if (document === null) {
    return nothing(
      "gltf",
      "This JSON is no glTF 2.0 document: its nodes or animations are not as the format has them.",
    );
  }
  const version = document.asset?.version ?? "";
  if (!/^2(\.|$)/.test(version)) {
    problems.add(
      "version",
      `The file names glTF version "${version}"; it is read as 2.0.`,
      0,
      0,
      "asset/version",
    );
  }
  const nodes = nodesOf(document, problems);
  if (nodes.length === 0) return nothing("no-nodes", "The file has no nodes; there is nothing to judge.");
  const { mostKeys = usualKeys } = options;
  const keys = keysAskedFor(document, options.animation ?? 0);
  if (keys > mostKeys) {
    return nothing(
      "keys",
      `Its channels have ${keys} keys, and at most ${mostKeys} are allowed. If that is meant, --budget keys=${keys} allows it.`,
    );
  }
  const rate = rateOfNumber(options.rate ?? 24);
  const curves = animate(
    document,
    chunks?.binary ?? null,
    nodes,
    rate.numerator / rate.denominator,
    options,
    problems,
  );
  const cameras = camerasOf(document, nodes);
  const shot: Shot = {
    header: {
      format: "keyside.curves",
      version: 1,
      shot: { ...(options.name === undefined ? {} : { name: options.name }), frameRate: writtenRate(rate) },
      space: { metresPerUnit: 1, up: "y", angle: "degrees" },
      nodes,
      ...(cameras.length === 0 ? {} : { cameras }),
    },
    frameRate: rate,
    range: rangeOf(curves),
    curves,
  };
  return { shot: plainZeros(shot), problems: problems.all(), places: new Map() };
}

/** Keys of all curves together where nothing else is said. */
const usualKeys = 20_000_000;

/** Keys of all curves that an animation asks for: channels may share what they are made of, and ask for it many times. */
function keysAskedFor({ animations = [], accessors = [] }: GltfDocument, index: number): number {
  const { channels = [], samplers = [] } = animations[index] ?? {};
  let keys = 0;
  for (const { sampler, target } of channels) {
    const count = accessors[samplers[sampler]?.input ?? -1]?.count ?? 0;
    keys += target.path === "rotation" ? count : 3 * count;
  }
  return keys;
}

function animate(
  document: GltfDocument,
  binary: Uint8Array | null,
  nodes: Shot["header"]["nodes"],
  rate: number,
  options: GltfOptions,
  problems: Problems,
): Curve[] {
  const animations = document.animations ?? [];
  const index = options.animation ?? 0;
  const animation = animations[index];
  if (animation === undefined) {
    const message = `The file has no animation ${index}; it has ${animations.length}.`;
    problems.add("no-animation", message, 0, 0, "animations");
    return [];
  }
  if (animations.length > 1 && options.animation === undefined) {
    const message = `The file has ${animations.length} animations; the first one is read.`;
    problems.add("several-animations", message, 0, 0, "animations");
  }
  const accessors = new Accessors(document, binary, options.resolve ?? (() => null), problems);
  const ids = nodes.map(({ id }) => id);
  return curvesOf(animation, `animations/${index}`, ids, accessors, rate, problems);
}

function camerasOf(
  document: GltfDocument,
  nodes: Shot["header"]["nodes"],
): NonNullable<Shot["header"]["cameras"]> {
  return (document.nodes ?? []).flatMap((node, i) => {
    const perspective = node.camera === undefined ? undefined : document.cameras?.[node.camera]?.perspective;
    if (perspective === undefined || !(perspective.yfov > 0)) return [];
    const { yfov, aspectRatio } = perspective;
    return [
      {
        id: nodes[i].id,
        node: nodes[i].id,
        verticalFieldOfView: inDegrees(yfov),
        ...(aspectRatio !== undefined && aspectRatio > 0 ? { aspect: aspectRatio } : {}),
      },
    ];
  });
}

function rangeOf(curves: readonly Curve[]): readonly [number, number] {
  if (curves.length === 0) return [0, 0];
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const { frames } of curves) {
    first = Math.min(first, frames[0]);
    last = Math.max(last, frames[frames.length - 1]);
  }
  return [Math.floor(first), Math.ceil(last)];
}
