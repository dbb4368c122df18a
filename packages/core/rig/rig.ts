import { radiansPerDegree } from "../base/constants.ts";
import { eulerToQuaternion, multiplyQuaternions, rotateVector } from "../base/quaternion.ts";
import { bytes, floats, integers } from "../base/room.ts";
import { sameNumbers, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import { type DocumentHeader, type NodeSpec, rotationOrders } from "../document/schema.ts";

/**
 * The hierarchy of a document in flat arrays. Nodes stand in depth-first order, children in document order: parents
 * come before their children, and a subtree is one run of indices.
 */
export interface Rig {
  readonly count: number;
  readonly ids: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  /** Per node: index of its parent, -1 for a root. */
  readonly parent: Int32Array;
  readonly children: readonly (readonly number[])[];
  /** Per node: number of nodes above it. */
  readonly depth: Int32Array;
  /** Per node: number of nodes in its subtree, itself included. */
  readonly subtreeSize: Int32Array;
  /** 3 per node, document units. */
  readonly translation: Float64Array;
  /** 4 per node, unit quaternions. */
  readonly fixedRotation: Float64Array;
  /** Per node: index into `rotationOrders`. */
  readonly order: Uint8Array;
  /** 3 per node (x, y, z), radians. */
  readonly restRotation: Float64Array;
  /** 3 per node. */
  readonly restScale: Float64Array;
  /** Whether any node has a rest scale other than 1. */
  readonly hasScale: boolean;
}

/**
 * The rig of a shot. Where the document contradicts itself it is read as far as it goes: of nodes that share an id
 * the first counts, a node whose parent is missing is a root, and a cycle is cut at its first node in the document.
 * @returns nodes in depth-first order; their places in it are the rig indices
 */
export const rigOf = shotMeasure<Rig>("rig", (study) => buildRig(headerOf(study)), sameRig);

/** Radians per angle unit of the document. */
export const radiansPerUnitOf = shotMeasure<number>("radians per unit", (study) =>
  radiansPerUnit(headerOf(study)),
);

/**
 * Rest positions of all nodes, 3 per node: document units, the document's axes; translations, fixed rotations, rest
 * rotations and rest scales.
 */
export const restPositionsOf = shotMeasure<Float64Array>(
  "rest positions",
  (study) => restPositions(rigOf(study)),
  sameNumbers,
);

/** Per node: the uppermost node from which a chain leads to it without a branch. */
export const chainTopsOf = shotMeasure<Int32Array>(
  "chain tops",
  (study) => {
    const { count, parent, children } = rigOf(study);
    const tops = integers(count);
    for (let node = 0; node < count; node++) {
      const above = parent[node];
      tops[node] = above >= 0 && children[above].length === 1 ? tops[above] : node;
    }
    return tops;
  },
  sameNumbers,
);

/**
 * Nodes from the root down to a node, both included.
 * @param rig what `rigOf` gives
 * @param node rig index of the node
 * @returns rig indices, the root first
 */
export function chainOf(rig: Rig, node: number): number[] {
  const chain: number[] = [];
  for (let at = node; at >= 0; at = rig.parent[at]) chain.push(at);
  return chain.reverse();
}

/**
 * A node and everything below it, parents before children.
 * @param rig what `rigOf` gives
 * @param node rig index of the node
 * @returns rig indices, the node first
 */
export function subtreeOf(rig: Rig, node: number): number[] {
  return Array.from({ length: rig.subtreeSize[node] }, (_, i) => node + i);
}

/** Whether a node is another one or stands above it. */
export function isAbove(rig: Rig, ancestor: number, node: number): boolean {
  return node >= ancestor && node < ancestor + rig.subtreeSize[ancestor];
}

function radiansPerUnit(header: DocumentHeader): number {
  return header.space?.angle === "radians" ? 1 : radiansPerDegree;
}

function buildRig(header: DocumentHeader): Rig {
  const specOf = new Map<string, NodeSpec>();
  for (const spec of header.nodes) if (!specOf.has(spec.id)) specOf.set(spec.id, spec);
  const { ids, parents } = depthFirst(specOf);
  const count = ids.length;
  const indexOf = new Map(ids.map((id, index) => [id, index]));
  const children: number[][] = ids.map(() => []);
  const parent = Int32Array.from(parents);
  const depth = integers(count);
  for (let node = 0; node < count; node++) depth[node] = parent[node] < 0 ? 0 : depth[parent[node]] + 1;
  const subtreeSize = integers(count).fill(1);
  for (let node = count - 1; node >= 0; node--) {
    if (parent[node] >= 0) subtreeSize[parent[node]] += subtreeSize[node];
  }
  const translation = floats(3 * count);
  const fixedRotation = floats(4 * count);
  const order = bytes(count);
  const restRotation = floats(3 * count);
  const restScale = floats(3 * count).fill(1);
  const toRadians = radiansPerUnit(header);
  ids.forEach((id, node) => {
    const spec = specOf.get(id) as NodeSpec;
    if (parent[node] >= 0) children[parent[node]].push(node);
    translation.set(spec.translation ?? [0, 0, 0], 3 * node);
    fixedRotation.set(unitQuaternion(spec.fixedRotation ?? [0, 0, 0, 1]), 4 * node);
    order[node] = spec.rotationOrder === undefined ? 0 : rotationOrders.indexOf(spec.rotationOrder);
    for (let axis = 0; axis < 3; axis++) {
      restRotation[3 * node + axis] = (spec.rotation?.[axis] ?? 0) * toRadians;
      restScale[3 * node + axis] = spec.scale?.[axis] ?? 1;
    }
  });
  const hasScale = restScale.some((factor) => factor !== 1);
  return {
    count,
    ids,
    indexOf,
    parent,
    children,
    depth,
    subtreeSize,
    translation,
    fixedRotation,
    order,
    restRotation,
    restScale,
    hasScale,
  };
}

/** Ids in depth-first order, and the index of each one's parent in that order. */
function depthFirst(specOf: ReadonlyMap<string, NodeSpec>): { ids: string[]; parents: number[] } {
  const below = new Map<string, string[]>();
  const roots: string[] = [];
  const cuts = cycleCuts(specOf);
  for (const [id, spec] of specOf) {
    const parent = spec.parent;
    if (parent === undefined || !specOf.has(parent) || cuts.has(id)) roots.push(id);
    else if (below.has(parent)) below.get(parent)?.push(id);
    else below.set(parent, [id]);
  }
  const ids: string[] = [];
  const parents: number[] = [];
  const waiting: [id: string, parent: number][] = roots.map((id): [string, number] => [id, -1]).reverse();
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [id, parent] = next;
    const node = ids.push(id) - 1;
    parents.push(parent);
    const own = below.get(id) ?? [];
    for (let i = own.length - 1; i >= 0; i--) waiting.push([own[i], node]);
  }
  return { ids, parents };
}

/** Of each cycle of parents, the node that stands first in the document. */
function cycleCuts(specOf: ReadonlyMap<string, NodeSpec>): Set<string> {
  if (isParentFirst(specOf)) return new Set();
  const place = new Map([...specOf.keys()].map((id, index) => [id, index]));
  const seenFrom = new Map<string, string>();
  const cuts = new Set<string>();
  for (const start of specOf.keys()) {
    let at: string | undefined = start;
    while (at !== undefined && specOf.has(at) && !seenFrom.has(at)) {
      seenFrom.set(at, start);
      at = specOf.get(at)?.parent;
    }
    if (at === undefined || seenFrom.get(at) !== start) continue;
    // The walk came back to a node of its own: go round once more for the first one in the document.
    let cut = at;
    for (let on = specOf.get(at)?.parent as string; on !== at; on = specOf.get(on)?.parent as string) {
      if ((place.get(on) as number) < (place.get(cut) as number)) cut = on;
    }
    cuts.add(cut);
  }
  return cuts;
}

/** Whether every node stands behind its parent, as in nearly all documents: there are no cycles then. */
function isParentFirst(specOf: ReadonlyMap<string, NodeSpec>): boolean {
  const seen = new Set<string>();
  for (const [id, { parent }] of specOf) {
    if (parent !== undefined && !seen.has(parent)) return false;
    seen.add(id);
  }
  return true;
}

function restPositions(rig: Rig): Float64Array {
  const positions = floats(3 * rig.count);
  const linear = floats(9 * rig.count);
  const turn = new Float64Array(4);
  const column = new Float64Array(3);
  for (let node = 0; node < rig.count; node++) {
    const up = rig.parent[node];
    const { translation, restRotation, restScale } = rig;
    for (let row = 0; row < 3; row++) {
      let sum = up < 0 ? translation[3 * node + row] : positions[3 * up + row];
      if (up >= 0)
        for (let k = 0; k < 3; k++) sum += linear[9 * up + 3 * row + k] * translation[3 * node + k];
      positions[3 * node + row] = sum;
    }
    const [x, y, z] = restRotation.subarray(3 * node, 3 * node + 3);
    eulerToQuaternion(rig.order[node], x, y, z, turn, 0);
    multiplyQuaternions(rig.fixedRotation, 4 * node, turn, 0, turn, 0);
    for (let c = 0; c < 3; c++) {
      column.fill(0);
      column[c] = restScale[3 * node + c];
      rotateVector(turn, 0, column, 0, column, 0);
      for (let row = 0; row < 3; row++) {
        let sum = up < 0 ? column[row] : 0;
        if (up >= 0) for (let k = 0; k < 3; k++) sum += linear[9 * up + 3 * row + k] * column[k];
        linear[9 * node + 3 * row + c] = sum;
      }
    }
  }
  return positions;
}

function unitQuaternion(q: readonly number[]): readonly number[] {
  const length = Math.hypot(...q);
  return length > 0 ? q.map((part) => part / length) : [0, 0, 0, 1];
}

function sameRig(a: Rig, b: Rig): boolean {
  return (
    a.ids.length === b.ids.length &&
    a.ids.every((id, index) => id === b.ids[index]) &&
    sameNumbers(a.parent, b.parent) &&
    sameNumbers(a.translation, b.translation) &&
    sameNumbers(a.fixedRotation, b.fixedRotation) &&
    sameNumbers(a.order, b.order) &&
    sameNumbers(a.restRotation, b.restRotation) &&
    sameNumbers(a.restScale, b.restScale)
  );
}
