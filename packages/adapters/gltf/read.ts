import type { Curve, FrameRate, ReadResult, Shot } from "@keyside/core";
import { isFrameRate, isUsable, jsonFault, rateFrom } from "@keyside/core/internal";
import { nothingBeside, type ReadOptions, type Resolve } from "../adapter.ts";
import { rateOfNumber, writtenRate } from "../frame-rate.ts";
import { Problems } from "../problems.ts";
import { plainZeros } from "../zeros.ts";
import { Accessors } from "./accessors.ts";
import { animationNames, chosenAnimation } from "./animations.ts";
import { chunksOf, faultOfHeader, textOf } from "./bytes.ts";
import { camerasOf } from "./cameras.ts";
import { coloursOf } from "./colours.ts";
import { curvesOf, type FrameCount } from "./curves.ts";
import type { GltfDocument } from "./document.ts";
import { nodesOf } from "./nodes.ts";
import { shapedDocument } from "./shape.ts";
import { zoomsOf } from "./zooms.ts";

export interface GltfOptions extends Omit<ReadOptions, "animation"> {
  /** Frames per second; glTF counts in seconds. What the file says itself, else 24 (common practice). */
  readonly rate?: number;
  /** Name of the animation, or its index; the first one if left out. */
  readonly animation?: number | string;
  /** Bytes of a buffer that stands in a file of its own. */
  readonly resolve?: Resolve;
}

/**
 * Reads nodes with their colours, cameras and one animation of a glTF 2.0 file: JSON text (.gltf) or bytes of either kind (.gltf, .glb).
 * Lengths are metres, y up, as the format has it; key frames are seconds times rate, from the frame on that the file
 * says its time begins with, else from 0. Rest rotations become degrees in the order xyz; animated rotations stay
 * quaternions. What is legal and not judged is a remark.
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
    const header = typeof source === "string" ? null : faultOfHeader(source);
    if (header !== null) return nothing("json", header);
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
  const remarks: string[] = [];
  const colours = coloursOf(data);
  const nodes = nodesOf(document, problems, remarks).map((node, index) => {
    const colour = colours.of.get(index);
    return colour === undefined ? node : { ...node, colour };
  });
  remarks.push(...colours.remarks);
  if (nodes.length === 0 && version === "") {
    return nothing("no-nodes", "The file has no nodes, and does not say that it is glTF.");
  }
  if (nodes.length === 0) remarks.push("The file has no nodes; there is nothing to judge.");
  const asked = options.animation === undefined ? undefined : String(options.animation);
  const index = chosenAnimation(document, asked, problems, remarks);
  if (index < 0 && asked !== undefined)
    return { shot: null, problems: problems.all().toReversed(), places: new Map() };
  const { mostKeys = usualKeys } = options;
  const keys = keysAskedFor(document, index);
  if (keys > mostKeys) {
    return nothing(
      "keys",
      `Its channels have ${keys} keys, and at most ${mostKeys} are allowed. If that is meant, --budget keys=${keys} allows it.`,
    );
  }
  const own = countOf(document.asset?.extras);
  const rate = options.rate === undefined ? own.rate : rateOfNumber(options.rate);
  const perSecond = rate.numerator / rate.denominator;
  const isOwn = perSecond === own.rate.numerator / own.rate.denominator;
  const accessors = new Accessors(
    document,
    chunks?.binary ?? null,
    options.resolve ?? nothingBeside,
    problems,
  );
  const count = { rate: perSecond, first: isOwn ? own.first : 0 };
  const curves = animate(document, index, accessors, nodes, count, problems, remarks);
  const cameras = camerasOf(document, nodes, zoomsOf(document, index, accessors, count, problems));
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
    range: isOwn && own.range !== null ? own.range : rangeOf(curves),
    curves,
  };
  return { shot: plainZeros(shot), problems: problems.all(), places: new Map(), remarks };
}

/** Names of the animations of a file, empty where it cannot be read. */
export function animationsIn(json: string): string[] {
  try {
    const { animations } = JSON.parse(json) as { animations?: unknown };
    if (!Array.isArray(animations)) return [];
    return animationNames(
      animations.map((one: { name?: unknown } | null) =>
        typeof one?.name === "string" ? { name: one.name } : {},
      ),
    );
  } catch {
    return [];
  }
}

interface OwnCount extends Omit<FrameCount, "rate"> {
  readonly rate: FrameRate;
  readonly range: readonly [number, number] | null;
}

/** What files that Keyside wrote say of their frames, beside what the format has; the usual where they do not. */
function countOf(extras: unknown): OwnCount {
  const usual = { rate: rateOfNumber(24), first: 0, range: null };
  const { keyside } = (extras ?? {}) as { keyside?: unknown };
  const { frameRate, firstFrame, range } = (keyside ?? {}) as Record<string, unknown>;
  if (typeof frameRate !== "number" && typeof frameRate !== "string") return usual;
  const value = rateFrom(frameRate);
  if (value === null || !isFrameRate(value) || !isNumber(firstFrame) || !isRange(range)) return usual;
  const [numerator = 24, denominator = 1] = String(frameRate).split("/").map(Number);
  const rate = typeof frameRate === "number" ? rateOfNumber(frameRate) : { numerator, denominator };
  return { rate, first: firstFrame, range: [range[0], range[1]] };
}

function isNumber(value: unknown): value is number {
  return typeof value === "number" && isUsable(value);
}

function isRange(value: unknown): value is [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every(isNumber) && value[0] <= value[1];
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
  index: number,
  accessors: Accessors,
  nodes: Shot["header"]["nodes"],
  count: FrameCount,
  problems: Problems,
  remarks: string[],
): Curve[] {
  const animation = document.animations?.[index];
  if (animation === undefined) {
    if (nodes.length > 0)
      remarks.push("The file has no animation; its nodes stand still, and no motion is judged.");
    return [];
  }
  const ids = nodes.map(({ id }) => id);
  const curves = curvesOf(animation, `animations/${index}`, ids, accessors, count, problems, remarks);
  const joints = new Set((document.skins ?? []).flatMap(({ joints = [] }) => joints)).size;
  if (joints > 0)
    remarks.push(`${joints} nodes are joints of skins; what a skin makes of the mesh is not judged.`);
  return curves;
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
