import { type Curve, inDegrees, type ReadResult, type Shot } from "@keyside/core";
import { rateOfNumber, writtenRate } from "../frame-rate.ts";
import { Problems } from "../problems.ts";
import { plainZeros } from "../zeros.ts";
import { Accessors } from "./accessors.ts";
import { chunksOf, textOf } from "./bytes.ts";
import { curvesOf } from "./curves.ts";
import type { GltfDocument } from "./document.ts";
import { nodesOf } from "./nodes.ts";

export interface GltfOptions {
  /** Frames per second; glTF counts in seconds. 24 if left out (common practice). */
  readonly rate?: number;
  readonly name?: string;
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
  let document: GltfDocument | null;
  try {
    document = JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  } catch (error) {
    return nothing("json", `This is no glTF: ${error instanceof Error ? error.message : String(error)}.`);
  }
  if (document === null || typeof document !== "object" || !isOfShape(document)) {
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

/** Whether the lists that are walked over are lists of objects. */
function isOfShape(document: GltfDocument): boolean {
  const areObjects = (list: unknown) =>
    list === undefined ||
    (Array.isArray(list) && list.every((one) => typeof one === "object" && one !== null));
  const { nodes, animations, accessors, bufferViews, buffers, cameras } = document;
  return (
    [nodes, animations, accessors, bufferViews, buffers, cameras].every(areObjects) &&
    (nodes ?? []).every(({ children }) => children === undefined || Array.isArray(children)) &&
    (animations ?? []).every(
      ({ channels, samplers }) =>
        areObjects(channels) &&
        areObjects(samplers) &&
        (channels ?? []).every(({ target }) => typeof target === "object" && target !== null),
    )
  );
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
  const ends = curves.flatMap(({ frames }) => [frames[0], frames[frames.length - 1]]);
  return ends.length === 0 ? [0, 0] : [Math.floor(Math.min(...ends)), Math.ceil(Math.max(...ends))];
}
