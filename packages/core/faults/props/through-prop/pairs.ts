import { bytes, floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { pathsOf } from "../../../staging/solids.ts";
import { hiddenAt } from "../../../staging/visible.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { armJointsOf, idOf, isArm, isBulk, type Piece } from "./pieces.ts";

/** Two pieces of which one may go through the other. */
export interface Pair {
  /** The one that goes through: an object, or of two pieces of flesh the arm's. */
  readonly one: Piece;
  readonly other: Piece;
  /** Metres of both radii that count: flesh is measured against flesh by the middle of the one that goes in. */
  readonly oneRadius: number;
  /** 1 where the two may be in each other, as a thing and the hand that holds it; null where they never may. */
  readonly allowed: Uint8Array | null;
}

/** Seconds before a hand takes a thing, and behind, in which it is about it. */
const about = 0.5;

/** All pairs that can go through each other, and whose boxes about all of their ways meet. */
export function pairsOf(study: Study, pieces: readonly Piece[]): Pair[] {
  const boxes = pieces.map((piece) => boxOf(study, piece));
  const pairs: Pair[] = [];
  for (let a = 0; a < pieces.length; a++) {
    for (let b = a + 1; b < pieces.length; b++) {
      if (!meet(boxes[a], boxes[b])) continue;
      const [one, other] = isFirst(pieces[a], pieces[b]) ? [pieces[a], pieces[b]] : [pieces[b], pieces[a]];
      if (!canBeThrough(study, one, other)) continue;
      const oneRadius = one.isFlesh && other.isFlesh ? 0 : one.radius;
      pairs.push({ one, other, oneRadius, allowed: allowedOf(study, one, other) });
    }
  }
  return pairs;
}

/** Of two pieces the object comes before flesh, an arm before what it is put into. */
function isFirst(a: Piece, b: Piece): boolean {
  if (a.isFlesh !== b.isFlesh) return b.isFlesh;
  return !a.isFlesh || isArm(a);
}

function canBeThrough(study: Study, one: Piece, other: Piece): boolean {
  if (one.owner === other.owner || (worldOf(study, one.node).still && worldOf(study, other.node).still))
    return false;
  const rig = rigOf(study);
  // What hangs on a joint, or beside it, is built or worn so.
  if (isAbove(rig, one.node, other.node) || isAbove(rig, other.node, one.node)) return false;
  if (!one.isFlesh && !other.isFlesh) return one.figure < 0 || one.figure !== other.figure;
  if (!one.isFlesh) return one.figure !== other.figure || !isAbove(rig, rig.parent[one.node], other.node);
  return isArm(one) && isBulk(other);
}

/**
 * Where two pieces may be in each other: where one holds the other, where the document says that they touch, and where one of
 * them is not to be seen.
 */
function allowedOf(study: Study, one: Piece, other: Piece): Uint8Array | null {
  const grid = gridOf(study);
  const rig = rigOf(study);
  let allowed: Uint8Array | null = null;
  const allow = (from: number, to: number) => {
    allowed ??= bytes(grid.count);
    allowed.fill(1, Math.max(0, from), Math.min(grid.count, to + 1));
  };
  if (!one.isFlesh && other.isFlesh) {
    const beside = Math.round(about * grid.rate);
    for (const { thing, hand, figure, from, to } of gripsOf(study)) {
      if (figure !== other.figure || !(isAbove(rig, thing, one.node) || isAbove(rig, one.node, thing)))
        continue;
      const isOfArm = isAbove(rig, hand, other.node) || armJointsOf(study, figure, hand).includes(other.node);
      if (isOfArm) allow(from - beside, to + beside);
    }
  }
  const end = grid.frames[0] + (grid.count - 1) * grid.step;
  for (const { node, with: on, frames } of headerOf(study).contacts ?? []) {
    const a = rig.indexOf.get(node);
    const b = on === undefined ? undefined : rig.indexOf.get(on);
    if (a === undefined || b === undefined || frames[1] < grid.frames[0] || frames[0] > end) continue;
    const isSaid =
      (isOf(study, a, one) && isOf(study, b, other)) || (isOf(study, b, one) && isOf(study, a, other));
    if (isSaid) allow(sampleAt(grid, frames[0]), sampleAt(grid, frames[1]));
  }
  for (const { node } of [one, other]) {
    hiddenAt(study, node)?.forEach((hidden, i) => {
      if (hidden === 1) allow(i, i);
    });
  }
  return allowed;
}

/** Whether a node that a contact names stands for a piece: it is of the same object, or the joint at either end, or beside it. */
function isOf(study: Study, node: number, { isFlesh, node: own, far, owner }: Piece): boolean {
  const { parent } = rigOf(study);
  if (!isFlesh) return isAbove(rigOf(study), owner, node) || isAbove(rigOf(study), node, owner);
  return node === own || node === far || parent[own] === node || parent[node] === own;
}

/** Samples of a block whose least and most are kept: after an edit only those of the blocks that it reaches are looked for. */
const blockLength = 64;

/** Least and most of x, y and z over all samples, the radius added, metres. */
function boxOf(study: Study, piece: Piece): Float64Array {
  const { radius, solid } = piece;
  const blocks = study.memo.keepPatched(
    study,
    `box ${idOf(piece)}`,
    [radius],
    () => {
      const { count } = gridOf(study);
      const fresh = floats(6 * Math.ceil(count / blockLength));
      fillBoxes(fresh, pathsOf(study, solid), radius, 0, count - 1);
      return fresh;
    },
    (kept, from, to) => {
      fillBoxes(kept, pathsOf(study, solid), radius, from, Math.min(to, gridOf(study).count - 1));
      return [from, to];
    },
  );
  const box = new Float64Array(6).fill(Number.POSITIVE_INFINITY);
  for (let k = 0; k < blocks.length; k++) if (blocks[k] < box[k % 6]) box[k % 6] = blocks[k];
  return box;
}

/** Writes the boxes of the blocks in which samples from..to lie. */
function fillBoxes(
  boxes: Float64Array,
  paths: readonly Float64Array[],
  radius: number,
  from: number,
  to: number,
): void {
  for (let block = Math.floor(from / blockLength); block * blockLength <= to; block++) {
    boxes.fill(Number.POSITIVE_INFINITY, 6 * block, 6 * block + 6);
    for (const path of paths) {
      const end = Math.min(path.length, 3 * blockLength * (block + 1));
      for (let k = 3 * blockLength * block; k < end; k++) {
        const at = 6 * block + (k % 3);
        if (path[k] - radius < boxes[at]) boxes[at] = path[k] - radius;
        if (-path[k] - radius < boxes[at + 3]) boxes[at + 3] = -path[k] - radius;
      }
    }
  }
}

function meet(a: Float64Array, b: Float64Array): boolean {
  for (let axis = 0; axis < 3; axis++) if (a[axis] > -b[3 + axis] || b[axis] > -a[3 + axis]) return false;
  return true;
}
