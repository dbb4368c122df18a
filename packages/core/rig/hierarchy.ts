import { bytes } from "../base/room.ts";
import { languageOfNames, type NameReading, type PartWord, readName, type Side } from "./parts-by-name.ts";
import { isAbove, type Rig } from "./rig.ts";

/** The part of a rig that one figure may own, with what names and rest pose say of it. */
export interface Hierarchy {
  readonly rig: Rig;
  /** 3 per node of the rig, document units. */
  readonly positions: Float64Array;
  /** Axis that points up: 0, 1 or 2. */
  readonly up: number;
  readonly root: number;
  /** Rig indices, parents before children; all in the root's subtree. */
  readonly nodes: readonly number[];
  /** Per node of the rig: 1 where it is one of {@link nodes}. */
  readonly owns: Uint8Array;
  /** Per node of the rig. */
  readonly names: readonly NameReading[];
  /** Per node of the rig: the side that its own name or the nearest sided ancestor's name tells. */
  readonly sides: readonly (Side | null)[];
}

/** What all hierarchies of a rig share. */
export type HierarchyBase = Omit<Hierarchy, "root" | "nodes" | "owns">;

/** What the names of a rig's nodes say, and the sides that pass down from parent to child. */
export function readNames(rig: Rig): Pick<Hierarchy, "names" | "sides"> {
  const language = languageOfNames(rig.ids);
  const names = rig.ids.map((id) => readName(id, language));
  const limbs: (PartWord | null)[] = [];
  for (let node = 0; node < rig.count; node++) {
    const { word } = names[node];
    const above = rig.parent[node] >= 0 ? limbs[rig.parent[node]] : null;
    const own = word !== null && above !== null && armWords.has(above) ? (onForeLimb[word] ?? word) : word;
    if (own !== word) names[node] = { ...names[node], word: own };
    limbs.push(own !== null && (armWords.has(own) || legWords.has(own)) ? own : above);
  }
  const sides: (Side | null)[] = [];
  for (let node = 0; node < rig.count; node++) {
    sides.push(names[node].side ?? (rig.parent[node] >= 0 ? sides[rig.parent[node]] : null));
  }
  return { names, sides };
}

/** A paw or a hoof below an upper arm ends a fore limb, whatever a language calls it; a rod in a hand is no tail. */
const onForeLimb: Partial<Record<PartWord, PartWord>> = { foot: "hand", toes: "finger", tail: "prop" };
const armWords: ReadonlySet<PartWord> = new Set<PartWord>(["arm", "upperArm", "forearm", "hand"]);
const legWords: ReadonlySet<PartWord> = new Set<PartWord>(["thigh", "leg", "shin", "foot"]);

/** A hierarchy of a root's subtree, without the subtrees of some other nodes. */
export function hierarchyBelow(
  base: HierarchyBase,
  root: number,
  without: readonly number[] = [],
): Hierarchy {
  const { rig } = base;
  const nodes: number[] = [];
  const owns = bytes(rig.count);
  for (let node = root; node < root + rig.subtreeSize[root]; node++) {
    if (without.some((other) => other !== root && isAbove(rig, other, node))) continue;
    nodes.push(node);
    owns[node] = 1;
  }
  return { ...base, root, nodes, owns };
}

/** Height of a node in the rest pose, document units. */
export function heightOf(h: Hierarchy, node: number): number {
  return h.positions[3 * node + h.up];
}

/** Distance of two nodes in the rest pose, document units. */
export function distance(positions: Float64Array, a: number, b: number): number {
  return Math.hypot(
    positions[3 * a] - positions[3 * b],
    positions[3 * a + 1] - positions[3 * b + 1],
    positions[3 * a + 2] - positions[3 * b + 2],
  );
}

/** Nodes from one down to another that stands below it, both included. */
export function pathBetween(rig: Rig, from: number, to: number): number[] {
  const path = [to];
  for (let at = to; at !== from && at >= 0; ) {
    at = rig.parent[at];
    path.push(at);
  }
  return path.reverse();
}

/** The lowest node that stands above all of some nodes, or is one of them; -1 if there is none. */
export function commonAncestor(rig: Rig, nodes: readonly number[]): number {
  let at = nodes[0] ?? -1;
  while (at >= 0 && !nodes.every((node) => isAbove(rig, at, node))) at = rig.parent[at];
  return at;
}
