import type { Shot } from "@keyside/core";
import type { WriteResult } from "../adapter.ts";
import { countedLoss, lostParts } from "../lost.ts";
import { type Axis, anglesOfTurns, axes, Poses, product, turned } from "../poses.ts";
import { steadyAngles } from "../steady-angles.ts";

/** Centimetres, in which motion capture is written: common practice. */
const unitsPerMetre = 100;
/** Digits behind the point: a millionth of what anybody measures, and few enough to be read by eye. */
const digits = 9;
/** Order of axes for turns that are no angles: common practice of motion capture. */
const usualOrder: readonly Axis[] = ["z", "x", "y"];

interface Joint {
  readonly id: string;
  readonly depth: number;
  readonly isEnd: boolean;
  readonly offset: readonly number[];
  /** Positions on each frame, 3 numbers each; null where the offset says all. */
  readonly positions: Float64Array | null;
  readonly order: readonly Axis[];
  readonly angles: readonly Float64Array[];
}

/**
 * Writes the poses of a shot's frames as BVH: each root with its place, each joint with its turns, and with its place
 * where that moves. A shot that declares its unit is written in centimetres, one that declares its up axis with y up;
 * what it does not declare stays as it is. The file's frames count from the first one of the shot's range.
 */
export function writeBvh(shot: Shot, file: string): WriteResult {
  const poses = new Poses(shot);
  const { rig, grid } = poses;
  const lost: string[] = lostParts(shot, { cameras: "cameras" });
  const names = namesOf(rig.ids);
  const { space } = shot.header;
  const unit = space?.metresPerUnit === undefined ? 1 : space.metresPerUnit * unitsPerMetre;
  const { factors, scaled } = scalesOf(poses);
  const joints = rig.ids.map((_, node) => jointOf(poses, node, names, unit * factors[node]));
  lost.push(
    ...countedLoss(scaled, "The scale of a node that it changes, or that is uneven.", "Scales of N nodes."),
    ...countedLoss(
      names.filter((name, node) => name !== rig.ids[node]).length,
      "A name has blanks or braces; they became low lines.",
      "N names have blanks or braces; they became low lines.",
    ),
  );
  if (shot.range[0] !== 1) lost.push(`Frames count from 1, which was frame ${shot.range[0]}.`);
  if (space?.metresPerUnit !== undefined) lost.push("The unit, which is centimetres; BVH does not say it.");
  const { numerator, denominator } = shot.frameRate;
  const lines = [
    "HIERARCHY",
    ...hierarchy(joints),
    "MOTION",
    `Frames: ${grid.count}`,
    `Frame Time: ${(denominator / numerator).toFixed(12)}`,
    ...motion(joints, grid.count),
  ];
  return { files: [{ name: file, content: `${lines.join("\n")}\n` }], lost };
}

/** Names that are one word each: other readers part at blanks. */
function namesOf(ids: readonly string[]): string[] {
  const taken = new Set<string>();
  return ids.map((id) => {
    const word = id.replace(/[\s{}\u00a0]+/g, "_");
    let name = word;
    for (let n = 2; taken.has(name); n++) name = `${word}_${n}`;
    taken.add(name);
    return name;
  });
}

/** By how much the scales above each node stretch its place, and how many nodes have scales that no number stands for. */
function scalesOf(poses: Poses): { readonly factors: Float64Array; readonly scaled: number } {
  const { rig } = poses;
  const factors = new Float64Array(rig.count).fill(1);
  const below = new Float64Array(rig.count).fill(1);
  let scaled = 0;
  for (let node = 0; node < rig.count; node++) {
    const parent = rig.parent[node];
    factors[node] = parent < 0 ? 1 : below[parent];
    const scale = poses.local(node).scale;
    let own = 1;
    if (scale !== null) {
      const [x, y, z] = scale.values;
      const isEven = Math.abs(x - y) < 1e-9 && Math.abs(y - z) < 1e-9;
      const isSteady = scale.still || scale.values.every((value, i) => value === scale.values[i % 3]);
      if (isEven && isSteady) own = x;
      else scaled++;
    }
    below[node] = factors[node] * own;
  }
  return { factors, scaled };
}

function jointOf(poses: Poses, node: number, names: readonly string[], unit: number): Joint {
  const { rig, grid } = poses;
  const isRoot = rig.parent[node] < 0;
  const { shift, turn } = poses.local(node);
  const outer = isRoot && poses.shot.header.space?.up !== undefined ? poses.toYUp : null;
  const isTurned = outer !== null && outer[3] !== 1;
  const placed = (i: number): number[] => {
    const place = [...shift.values.subarray(3 * i, 3 * i + 3)].map((value) => value * unit);
    return isTurned ? turned(outer, place) : place;
  };
  const still = { id: names[node], depth: rig.depth[node], isEnd: false } as const;
  const isLeaf = rig.children[node].length === 0;
  const isPlain = turn.still && shift.still && turn.values[3] === 1 && rig.restScale[3 * node] === 1;
  if (!isRoot && isLeaf && isPlain && names[node] === `${names[rig.parent[node]]}_end`) {
    return { ...still, isEnd: true, offset: placed(0), positions: null, order: [], angles: [] };
  }
  const moves = isRoot || !shift.still;
  const positions = moves ? new Float64Array(3 * grid.count) : null;
  if (positions !== null) {
    for (let i = 0; i < grid.count; i++) positions.set(placed(shift.still ? 0 : i), 3 * i);
  }
  const isByAngles = poses.quaternions(node) === null && !poses.hasFixedTurn(node) && !isTurned;
  const order = poses.quaternions(node) === null ? poses.order(node) : usualOrder;
  const angles = isByAngles
    ? poses.angles(node)
    : steadied(anglesOfTurns(everyTurn(turn, grid.count, isTurned ? outer : null), order));
  // A place that moves stands whole in its channels: programs differ in whether they add the offset to it.
  return { ...still, offset: moves ? [0, 0, 0] : placed(0), positions, order, angles };
}

function everyTurn(
  { values, still }: { readonly values: Float64Array; readonly still: boolean },
  count: number,
  outer: readonly number[] | null,
): Float64Array {
  const turns = new Float64Array(4 * count);
  for (let i = 0; i < count; i++) {
    const at = still ? 0 : 4 * i;
    const own = values.subarray(at, at + 4);
    turns.set(outer === null ? own : product(outer, [...own]), 4 * i);
  }
  return turns;
}

function steadied(angles: readonly Float64Array[]): readonly Float64Array[] {
  const [a, b, c] = angles;
  steadyAngles(a, b, c);
  return angles;
}

function hierarchy(joints: readonly Joint[]): string[] {
  const lines: string[] = [];
  const open: number[] = [];
  const closeTo = (depth: number) => {
    for (let at = open.at(-1); at !== undefined && at >= depth; at = open.at(-1)) {
      lines.push(`${"\t".repeat(at)}}`);
      open.pop();
    }
  };
  joints.forEach(({ id, depth, isEnd, offset, positions, order }, i) => {
    closeTo(depth);
    const tabs = "\t".repeat(depth);
    lines.push(`${tabs}${isEnd ? "End Site" : depth === 0 ? `ROOT ${id}` : `JOINT ${id}`}`, `${tabs}{`);
    open.push(depth);
    lines.push(`${tabs}\tOFFSET ${offset.map(numberText).join(" ")}`);
    if (isEnd) return;
    const channels = [
      ...(positions === null ? [] : axes.map((axis) => `${axis.toUpperCase()}position`)),
      ...order.map((axis) => `${axis.toUpperCase()}rotation`),
    ];
    lines.push(`${tabs}\tCHANNELS ${channels.length} ${channels.join(" ")}`);
    // The format closes each chain by an end.
    if ((joints[i + 1]?.depth ?? 0) <= depth) {
      lines.push(`${tabs}\tEnd Site`, `${tabs}\t{`, `${tabs}\t\tOFFSET 0 0 0`, `${tabs}\t}`);
    }
  });
  closeTo(0);
  return lines;
}

function motion(joints: readonly Joint[], count: number): string[] {
  return Array.from({ length: count }, (_, i) => {
    const row: string[] = [];
    for (const { positions, angles } of joints) {
      if (positions !== null) for (let k = 0; k < 3; k++) row.push(numberText(positions[3 * i + k]));
      for (const values of angles) row.push(numberText(values[i]));
    }
    return row.join(" ");
  });
}

/** A number without an exponent, which not all programs read. */
function numberText(value: number): string {
  const text = value.toFixed(digits).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}
