import { type BodyPart, type Figure, figuresOf, type Study, statureOf, worldOf } from "@keyside/core";
import { bonesOf, isVisible } from "@keyside/core/internal";
import { element, type Point, short } from "../../text/svg.ts";
import type { Placing } from "./placing.ts";
import { drawnThing, type SeenThing } from "./things.ts";
import type { View } from "./view.ts";

/** One capsule of a drawn body. */
interface Bone {
  /** Nodes (rig indices) of its ends. */
  readonly from: number;
  readonly to: number;
  /** Metres. */
  readonly radius: number;
  /** What is drawn as one piece, in front of or behind the rest. */
  readonly limb: string;
}

/** A figure as it is drawn: capsules along its bones. */
export interface Body {
  readonly figure: Figure;
  readonly stature: number;
  readonly bones: readonly Bone[];
  /** Node by which the figure is placed. */
  readonly root: number;
}

/** How a figure of a shot is drawn. */
export function bodyOf(study: Study, index: number): Body {
  const figure = figuresOf(study)[index];
  const stature = statureOf(study, index);
  const bones = bonesOf(study, index).map(({ from, to, radius, part }) => ({
    from,
    to,
    radius,
    limb: limbOf(part),
  }));
  return { figure, stature, bones, root: figure.parts.get("root")?.[0] ?? figure.root };
}

function limbOf(part: BodyPart | undefined): string {
  const limb = /^(left|right)(UpperArm|Forearm|Hand|Thigh|Shin|Foot|Toes|Wing)$/.exec(part ?? "");
  if (limb !== null) {
    const kind = /Arm|Forearm|Hand/.test(limb[2]) ? "arm" : limb[2] === "Wing" ? "wing" : "leg";
    return `${limb[1]} ${kind}`;
  }
  if (part === "head" || part === "jaw" || part === "ears" || part === "hair") return "head";
  return part === "tail" || part === "prop" ? part : "trunk";
}

/** A bone as it is seen: both ends and its thickness, in lengths of the view. */
interface SeenBone {
  readonly bone: Bone;
  readonly a: Point;
  readonly b: Point;
  readonly radius: number;
  readonly depth: number;
}

/** A figure at one judged frame, from a view. */
export interface Pose {
  readonly sample: number;
  readonly bones: readonly SeenBone[];
  /** Where the figure's root is. */
  readonly root: Point;
}

/** How a body stands at a judged frame; null where the view does not see it whole. */
export function poseOf(study: Study, body: Body, view: View, sample: number): Pose | null {
  const seenAt = (node: number) => view.see(worldOf(study, node).position, 3 * sample, sample);
  const bones: SeenBone[] = [];
  const root = seenAt(body.root);
  if (root === null) return null;
  for (const bone of body.bones) {
    if (!isVisible(study, bone.from, sample)) continue;
    const [a, b] = [seenAt(bone.from), seenAt(bone.to)];
    if (a === null || b === null) return null;
    bones.push({
      bone,
      a: [a.x, a.y],
      b: [b.x, b.y],
      radius: (bone.radius * (a.scale + b.scale)) / 2,
      depth: (a.depth + b.depth) / 2,
    });
  }
  return { sample, bones, root: [root.x, root.y] };
}

/** Thinnest capsule in a picture, pixels: thinner ones cannot be seen. */
const thinnest = 1.6;

/**
 * A pose drawn as capsules, limb by limb, the farthest first, with things among them; those that are larger than the
 * figure, or away from it, as bare lines. The bones that start at marked nodes are dark.
 */
export function drawnPose(
  pose: Pose,
  placing: Placing,
  marked: ReadonlySet<number>,
  things: readonly SeenThing[] = [],
): string {
  const limbs = new Map<string, SeenBone[]>();
  for (const bone of pose.bones) {
    const list = limbs.get(bone.bone.limb);
    if (list === undefined) limbs.set(bone.bone.limb, [bone]);
    else list.push(bone);
  }
  const depthOf = (list: readonly SeenBone[]) =>
    list.reduce((sum, bone) => sum + bone.depth, 0) / list.length;
  const parts = [
    ...[...limbs.values()].map((list) => ({
      depth: depthOf(list),
      drawn: () => drawnLimb(list, placing, marked),
    })),
    ...things.map((thing) => ({
      depth: thing.depth,
      drawn: () => drawnThing(thing, placing, isBeside(thing, pose) ? "thing" : "thing set"),
    })),
  ];
  parts.sort((p, q) => q.depth - p.depth);
  return element("g", { class: "body" }, ...parts.map(({ drawn }) => drawn()));
}

function drawnLimb(bones: readonly SeenBone[], placing: Placing, marked: ReadonlySet<number>): string {
  const rim = new Map<string, string>();
  const flesh = new Map<string, string>();
  for (const { bone, a, b, radius } of bones) {
    const width = Math.max(thinnest, 2 * radius * placing.scale);
    const d = lineOf(placing.place(a), placing.place(b));
    const outer = short(width + 2);
    rim.set(outer, (rim.get(outer) ?? "") + d);
    const inner = `${marked.has(bone.from) ? "flesh dark" : "flesh"} ${short(width)}`;
    flesh.set(inner, (flesh.get(inner) ?? "") + d);
  }
  const rims = [...rim].map(([width, d]) => element("path", { class: "rim", "stroke-width": width, d }));
  const fleshes = [...flesh].map(([name, d]) => {
    const at = name.lastIndexOf(" ");
    return element("path", { class: name.slice(0, at), "stroke-width": name.slice(at + 1), d });
  });
  return rims.join("") + fleshes.join("");
}

/** A line between two points; a dot where they fall together, which round ends make a disc of. */
function lineOf([ax, ay]: Point, [bx, by]: Point): string {
  return `M${short(ax)} ${short(ay)}L${short(bx)} ${short(by)}`;
}

/**
 * The bones of a pose that stand elsewhere than in another one, as dashed lines; empty where none is moved by as much
 * as can be seen.
 */
export function drawnChange(before: Pose, after: Pose, placing: Placing): string {
  const least = 1.5;
  let d = "";
  after.bones.forEach(({ a, b }, n) => {
    const was = before.bones[n];
    if (was === undefined) return;
    const ends = [placing.place(a), placing.place(b)] as const;
    const wereEnds = [placing.place(was.a), placing.place(was.b)] as const;
    const moved = Math.max(...ends.map(([x, y], k) => Math.hypot(x - wereEnds[k][0], y - wereEnds[k][1])));
    if (moved >= least) d += lineOf(...ends);
  });
  return d === "" ? "" : element("path", { class: "fixed-bones", d });
}

/** Whether a thing belongs to a pose: it is no larger, and touches its box. */
export function isBeside({ points, radii }: SeenThing, { bones }: Pose): boolean {
  const boxes = [0, 1].map((k) => ({
    pose: [
      Math.min(...bones.flatMap(({ a, b }) => [a[k], b[k]])),
      Math.max(...bones.flatMap(({ a, b }) => [a[k], b[k]])),
    ],
    thing: [
      Math.min(...points.map((point, n) => point[k] - radii[n])),
      Math.max(...points.map((point, n) => point[k] + radii[n])),
    ],
  }));
  const touches = boxes.every(({ pose, thing }) => thing[0] <= pose[1] && thing[1] >= pose[0]);
  const sizeOf = (of: "pose" | "thing") => Math.max(...boxes.map((box) => box[of][1] - box[of][0]));
  return touches && sizeOf("thing") <= sizeOf("pose");
}
