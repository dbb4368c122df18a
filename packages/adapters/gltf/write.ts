import { Accessor, type Animation, type Buffer, Document, type Node, WebIO } from "@gltf-transform/core";
import type { Shot } from "@keyside/core";
import { inRadians } from "@keyside/core";
import type { WriteOptions, WriteResult } from "../adapter.ts";
import { writtenRate } from "../frame-rate.ts";
import { countedLoss, lostParts } from "../lost.ts";
import { Poses, product, turned } from "../poses.ts";
import { base64Of } from "./bytes.ts";
import { bakedTrack, keyedTrack, type Track, trackTimes } from "./tracks.ts";

/**
 * Writes a shot as glTF 2.0: nodes, cameras and one animation, in metres and with y up. Channels whose keys the format
 * has (step, linear, cubic) keep them; the others are written frame by frame. Seconds count from the first frame; which
 * that is, and the rate, stand in the asset's extras, by which Keyside reads the same frames again.
 * @param options a name that ends with `.glb` becomes one file of bytes, else JSON with its buffer in it
 */
export async function writeGltf(shot: Shot, { file, isBaked = false }: WriteOptions): Promise<WriteResult> {
  const poses = new Poses(shot);
  const document = new Document();
  const asset: { generator?: string; extras?: Record<string, unknown> } = document.getRoot().getAsset();
  asset.generator = "Keyside";
  const [first, last] = shot.range;
  const count = { frameRate: writtenRate(shot.frameRate), firstFrame: first, range: [first, last] };
  asset.extras = { keyside: count };
  const nodes = nodesOf(document, poses);
  const cameras = addCameras(document, shot, poses, nodes);
  const writer = new AnimationWriter(document, shot, poses, isBaked);
  for (const [i, node] of nodes.entries()) writer.add(node, i);
  const lost = [
    ...lostParts(shot),
    ...countedLoss(
      shot.header.cameras?.filter(({ zoom }) => zoom !== undefined).length ?? 0,
      "The zoom of a camera.",
      "Zooms of N cameras.",
    ),
    ...lostOfCameras(shot, cameras),
    ...countedLoss(
      isBaked ? 0 : writer.baked,
      "A channel has keys that glTF has no room for; it is written frame by frame.",
      "N channels have keys that glTF has no room for; they are written frame by frame.",
    ),
  ];
  const io = new WebIO();
  if (file.toLowerCase().endsWith(".glb")) {
    return { files: [{ name: file, content: await io.writeBinary(document) }], lost };
  }
  const { json, resources } = await io.writeJSON(document, { basename: "motion" });
  for (const buffer of json.buffers ?? []) {
    const bytes = buffer.uri === undefined ? undefined : resources[buffer.uri];
    if (bytes !== undefined) buffer.uri = `data:application/octet-stream;base64,${base64Of(bytes)}`;
  }
  return { files: [{ name: file, content: `${JSON.stringify(json, null, 1)}\n` }], lost };
}

function nodesOf(document: Document, poses: Poses): Node[] {
  const { rig, metresPerUnit, toYUp } = poses;
  const scene = document.createScene();
  document.getRoot().setDefaultScene(scene);
  const nodes: Node[] = [];
  for (let i = 0; i < rig.count; i++) {
    const isRoot = rig.parent[i] < 0;
    const shift = [...rig.translation.subarray(3 * i, 3 * i + 3)].map((value) => value * metresPerUnit);
    const turn = unit(isRoot ? product(toYUp, poses.restTurn(i)) : poses.restTurn(i));
    const node = document
      .createNode(rig.ids[i])
      .setTranslation(isRoot ? turned(toYUp, shift) : (shift as [number, number, number]))
      .setRotation(turn)
      .setScale([...rig.restScale.subarray(3 * i, 3 * i + 3)] as [number, number, number]);
    nodes.push(node);
    if (isRoot) scene.addChild(node);
    else nodes[rig.parent[i]].addChild(node);
  }
  return nodes;
}

function unit(turn: readonly number[]): [number, number, number, number] {
  const length = Math.hypot(...turn) || 1;
  return turn.map((value) => value / length) as [number, number, number, number];
}

/** Adds the cameras that the format has room for; how many. */
function addCameras(
  document: Document,
  { header }: Shot,
  { rig, metresPerUnit }: Poses,
  nodes: Node[],
): number {
  let written = 0;
  for (const { id, node, verticalFieldOfView, verticalExtent, aspect, near, far } of header.cameras ?? []) {
    const at = rig.indexOf.get(node);
    // A node has room for one.
    if (at === undefined || nodes[at].getCamera() !== null) continue;
    const znear = (near ?? 0) * metresPerUnit;
    const zfar = far === undefined ? undefined : far * metresPerUnit;
    if (verticalFieldOfView !== undefined) {
      const camera = document.createCamera(id).setType("perspective").setYFov(inRadians(verticalFieldOfView));
      if (aspect !== undefined) camera.setAspectRatio(aspect);
      // The format asks for a distance above 0; what a lens sees begins at about a centimetre (our choice).
      camera.setZNear(znear > 0 ? znear : 0.01);
      if (zfar !== undefined && zfar > camera.getZNear()) camera.setZFar(zfar);
      nodes[at].setCamera(camera);
    } else if (verticalExtent !== undefined) {
      const height = (verticalExtent * metresPerUnit) / 2;
      const camera = document.createCamera(id).setType("orthographic").setYMag(height);
      camera.setXMag(height * (aspect ?? 1)).setZNear(znear);
      // So far that it bounds nothing (our choice): the format asks for a number.
      camera.setZFar(zfar !== undefined && zfar > znear ? zfar : znear + 10_000);
      nodes[at].setCamera(camera);
    } else continue;
    written++;
  }
  return written;
}

/** What is lost of cameras, a sentence each. @param written how many were written */
function lostOfCameras({ header: { cameras = [] } }: Shot, written: number): string[] {
  const countOf = (isSo: (camera: (typeof cameras)[number]) => boolean) => cameras.filter(isSo).length;
  return [
    ...countedLoss(
      cameras.length - written,
      "A camera: its node has another one, or is missing, or it does not say what it sees.",
      "N cameras: their nodes have others, or are missing, or they do not say what they see.",
    ),
    ...countedLoss(
      countOf(({ frames }) => frames !== undefined),
      "The frames over which a camera holds.",
      "The frames over which N cameras hold.",
    ),
    ...countedLoss(
      countOf(({ background }) => background !== undefined),
      "The background of a camera.",
      "Backgrounds of N cameras.",
    ),
  ];
}

/** Writes the channels of nodes into one animation, which is made with the first of them. */
class AnimationWriter {
  /** How many channels were written frame by frame because the format has no room for their keys. */
  baked = 0;
  private readonly document: Document;
  private readonly shot: Shot;
  private readonly poses: Poses;
  private readonly isBaked: boolean;
  private animation: Animation | null = null;
  private buffer: Buffer | null = null;
  private readonly times = new Map<string, Accessor>();

  constructor(document: Document, shot: Shot, poses: Poses, isBaked: boolean) {
    this.document = document;
    this.shot = shot;
    this.poses = poses;
    this.isBaked = isBaked;
  }

  add(node: Node, i: number): void {
    const { poses } = this;
    const { rig, metresPerUnit, toYUp } = poses;
    const outer = rig.parent[i] < 0 ? toYUp : null;
    const { shift, turn, scale } = poses.local(i);
    const place = (value: readonly number[]) => {
      const metres = value.map((one) => one * metresPerUnit);
      return outer === null ? metres : turned(outer, metres);
    };
    const axes = (kind: "translation" | "scale") =>
      (["x", "y", "z"] as const).map((axis) => poses.curve(i, `${kind}.${axis}`));
    if (!shift.still) {
      const rest = rig.translation.subarray(3 * i, 3 * i + 3);
      this.track(node, "translation", keyedTrack(axes("translation"), rest, place), shift.values, 3, place);
    }
    if (!turn.still) {
      const own = poses.quaternions(i);
      const fixed = [...rig.fixedRotation.subarray(4 * i, 4 * i + 4)];
      const before = outer === null ? fixed : product(outer, fixed);
      const keyed = own === null ? null : keyedTrack([own], null, (value) => product(before, value));
      const baked = (value: readonly number[]) => unit(outer === null ? value : product(outer, value));
      this.track(node, "rotation", keyed, turn.values, 4, baked);
    }
    if (scale !== null && !scale.still) {
      const rest = rig.restScale.subarray(3 * i, 3 * i + 3);
      const same = (value: readonly number[]) => [...value];
      this.track(node, "scale", keyedTrack(axes("scale"), rest, same), scale.values, 3, same);
    }
  }

  private track(
    node: Node,
    path: "translation" | "rotation" | "scale",
    keyed: Track | null,
    poses: Float64Array,
    width: 3 | 4,
    place: (value: readonly number[]) => readonly number[],
  ): void {
    const { grid } = this.poses;
    const { numerator, denominator } = this.shot.frameRate;
    const rate = numerator / denominator;
    const [first] = this.shot.range;
    const own = this.isBaked || keyed === null ? null : trackTimes(keyed, first, rate);
    if (own === null) this.baked++;
    const track = own === null || keyed === null ? bakedTrack(grid.frames, poses, width, place) : keyed;
    const times = own ?? trackTimes(track, first, rate);
    if (times === null) return;
    const values =
      track.mode === "CUBICSPLINE" ? perSecond(track.values, width, rate) : Float32Array.from(track.values);
    const { document } = this;
    const sampler = document
      .createAnimationSampler()
      .setInput(this.timeAccessor(times))
      .setOutput(this.accessor(values, width === 3 ? Accessor.Type.VEC3 : Accessor.Type.VEC4))
      .setInterpolation(track.mode);
    const channel = document.createAnimationChannel().setTargetNode(node).setTargetPath(path);
    this.owner().addSampler(sampler).addChannel(channel.setSampler(sampler));
  }

  private owner(): Animation {
    this.animation ??= this.document.createAnimation(this.shot.header.shot.name ?? "motion");
    return this.animation;
  }

  private accessor(
    array: Float32Array<ArrayBuffer>,
    type: (typeof Accessor.Type)[keyof typeof Accessor.Type],
  ): Accessor {
    this.buffer ??= this.document.createBuffer();
    return this.document.createAccessor().setType(type).setArray(array).setBuffer(this.buffer);
  }

  private timeAccessor(times: Float32Array<ArrayBuffer>): Accessor {
    const key = times.join(" ");
    let accessor = this.times.get(key);
    if (accessor === undefined) {
      accessor = this.accessor(times, Accessor.Type.SCALAR);
      this.times.set(key, accessor);
    }
    return accessor;
  }
}

/** Slopes per frame become slopes per second; values stay. */
function perSecond(values: readonly number[], width: number, rate: number): Float32Array<ArrayBuffer> {
  return Float32Array.from(values, (value, at) => (Math.floor(at / width) % 3 === 1 ? value : value * rate));
}
