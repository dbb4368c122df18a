import { measure, type Study, shotMeasure } from "../base/study.ts";
import { curveName, curveOf, headerOf } from "../document/inputs.ts";
import { type Figure, foundFiguresOf } from "./figures.ts";
import { distance } from "./hierarchy.ts";
import { lengthShare } from "./proportions.ts";
import { restPositionsOf, rigOf } from "./rig.ts";
import { upIndexOf } from "./up.ts";

/** Stature of a human figure whose units nobody declared, in metres: common practice, a grown person at life size. */
export const assumedStature = 1.7;
/** Size of a figure that is no human whose units nobody declared, in metres. */
export const assumedSize = 1;

/**
 * Units in which rigs are built: metres, centimetres, decimetres, millimetres, inches, feet, and the unit of the CMU
 * motion capture database (1/0.45 inches, mocap.cs.cmu.edu/faqs.php).
 */
const conventions = [1, 0.01, 0.1, 0.001, 0.0254, 0.3048, 0.0254 / 0.45];
/** Statures of grown people, in metres; a convention that gives one of these is taken for meant. */
const adult = [1.4, 2.1] as const;

/** The units of most rigs, the larger first, in metres. */
const commonUnits = [1, 0.01] as const;
/** Sizes from a child that walks to a giant, and from a small animal to a large one, in metres (our choice). */
const sizes = { human: [0.7, 5], other: [0.1, 10] } as const;

/** Length of one document unit, and how it was found. */
export interface Scale {
  readonly metresPerUnit: number;
  readonly from:
    | "declared"
    | "declared stature"
    | "convention"
    | "common unit"
    | "assumed stature"
    | "assumed size"
    | "nothing";
  /** Index of the figure it was found by; -1 for none. */
  readonly figure: number;
}

/**
 * Scale of the document: what it declares; else by the first figure with a declared stature; else by the first human
 * figure, the unit of length in common use that makes it 1.4 m to 2.1 m tall; else, as children and giants need, metres
 * or centimetres where one of them makes it 0.7 m to 5 m, or the scale that makes it 1.7 m tall; else by the first figure
 * of any kind, metres or centimetres where one of them makes it 0.1 m to 10 m, or the scale that makes it 1 m; else 1. Only the rest pose counts, so that an edit to a key
 * does not change the units.
 */
export const scaleOf = shotMeasure<Scale>(
  "scale",
  (study) => {
    const header = headerOf(study);
    const declared = header.space?.metresPerUnit;
    if (declared !== undefined) return { metresPerUnit: declared, from: "declared", figure: -1 };
    const figures = foundFiguresOf(study).found.map(({ figure }) => figure);
    const heights = figures.map((figure) => restHeight(study, figure));
    for (let i = 0; i < figures.length; i++) {
      const stature = declaredStature(study, figures[i]);
      if (stature !== null && heights[i] > 0) {
        return { metresPerUnit: stature / heights[i], from: "declared stature", figure: i };
      }
    }
    const human = figures.findIndex((figure, i) => figure.kind === "human" && heights[i] > 0);
    if (human >= 0) {
      const usual = conventions.find(
        (unit) => unit * heights[human] >= adult[0] && unit * heights[human] <= adult[1],
      );
      if (usual !== undefined) return { metresPerUnit: usual, from: "convention", figure: human };
      const common = commonUnitFor(heights[human], sizes.human);
      if (common !== undefined) return { metresPerUnit: common, from: "common unit", figure: human };
      return { metresPerUnit: assumedStature / heights[human], from: "assumed stature", figure: human };
    }
    const other = heights.findIndex((height) => height > 0);
    const common = other < 0 ? undefined : commonUnitFor(heights[other], sizes.other);
    if (common !== undefined) return { metresPerUnit: common, from: "common unit", figure: other };
    if (other >= 0)
      return { metresPerUnit: assumedSize / heights[other], from: "assumed size", figure: other };
    return { metresPerUnit: 1, from: "nothing", figure: -1 };
  },
  (a, b) => a.metresPerUnit === b.metresPerUnit && a.from === b.from && a.figure === b.figure,
);

function commonUnitFor(height: number, [least, most]: readonly [number, number]): number | undefined {
  return commonUnits.find((unit) => unit * height >= least && unit * height <= most);
}

/**
 * Metres per document unit; see {@link scaleOf}.
 * @returns metres per unit of length of the document
 */
export const metresPerUnitOf = shotMeasure<number>(
  "metres per unit",
  (study) => scaleOf(study).metresPerUnit,
);

/**
 * Height of a figure in metres (`figure` is an index into `figuresOf`): what the document declares, else the height
 * of the rest pose; for a figure that is no human its largest extent, or that of its root's motion where it has none;
 * never 0.
 * @param index index into `figuresOf`
 * @returns metres, above 0
 */
export const statureOf = measure<number, number>("stature", (study, index) => {
  const figure = foundFiguresOf(study).found[index]?.figure;
  if (figure === undefined) return assumedStature;
  const declared = declaredStature(study, figure);
  if (declared !== null) return declared;
  const unit = metresPerUnitOf(study);
  const height = restHeight(study, figure) * unit;
  if (height > 0) return height;
  const travel = rootTravel(study, figure) * unit;
  if (figure.kind !== "human" && travel > 0) return travel;
  return figure.kind === "human" ? assumedStature : assumedSize;
});

function declaredStature(study: Study, figure: Figure): number | null {
  if (!figure.declared) return null;
  return headerOf(study).figures?.find(({ id }) => id === figure.id)?.stature ?? null;
}

/** Height of a figure's rest pose in document units, 0 if it cannot be told. */
function restHeight(study: Study, figure: Figure): number {
  const positions = restPositionsOf(study);
  if (figure.kind === "human") {
    const standing = standingHeight(study, figure, positions);
    if (standing > 0) return standing;
  }
  return extent(positions, figure.nodes);
}

/** Largest side of the box around some nodes. */
function extent(positions: Float64Array, nodes: readonly number[]): number {
  let largest = 0;
  for (let axis = 0; axis < 3; axis++) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (const node of nodes) {
      low = Math.min(low, positions[3 * node + axis]);
      high = Math.max(high, positions[3 * node + axis]);
    }
    largest = Math.max(largest, high - low);
  }
  return largest;
}

/**
 * Height of a human rig stood up straight: sole to ankle, shin, thigh, mid-hip up the spine to the head joint, head.
 * Bones are summed, so that a rest pose with bent or spread legs gives the same height. The head joint is not the top
 * of the skull: where no tip of the head stands at a likely distance, the head's published share is added.
 */
function standingHeight(study: Study, figure: Figure, positions: Float64Array): number {
  const { parts } = figure;
  const first = (part: Parameters<typeof parts.get>[0]) => parts.get(part)?.[0];
  const legs: number[] = [];
  const hips: number[] = [];
  for (const side of ["left", "right"] as const) {
    const thigh = first(`${side}Thigh`);
    const shin = first(`${side}Shin`);
    const foot = first(`${side}Foot`);
    if (thigh === undefined || foot === undefined) continue;
    hips.push(thigh);
    const bones =
      shin === undefined
        ? distance(positions, thigh, foot)
        : distance(positions, thigh, shin) + distance(positions, shin, foot);
    legs.push(bones + soleDrop(study, foot, bones));
  }
  const head = first("head");
  if (legs.length === 0 || head === undefined) return 0;
  const rig = rigOf(study);
  const spine: number[] = [];
  for (let at = head; at >= 0 && !hips.some((hip) => isIn(rig.parent, at, hip)); at = rig.parent[at])
    spine.push(at);
  const base = spine[spine.length - 1] ?? head;
  const midHip = [0, 1, 2].map(
    (k) => hips.reduce((sum, hip) => sum + positions[3 * hip + k], 0) / hips.length,
  );
  let trunk = Math.hypot(...midHip.map((value, k) => positions[3 * base + k] - value));
  for (let i = 1; i < spine.length; i++) trunk += distance(positions, spine[i - 1], spine[i]);
  const toHead = legs.reduce((sum, leg) => sum + leg, 0) / legs.length + trunk;
  const share = (toHead * lengthShare.head) / (1 - lengthShare.head);
  const tips = rig.children[head].filter((node) => rig.children[node].length === 0);
  const tip = Math.max(0, ...tips.map((node) => distance(positions, head, node)));
  return toHead + (tip > 0.6 * share && tip < 1.6 * share ? tip : share);
}

/** Whether a node is another one or stands above it. */
function isIn(parent: Int32Array, above: number, node: number): boolean {
  for (let at = node; at >= 0; at = parent[at]) if (at === above) return true;
  return false;
}

/** From the ankle down to the lowest node of the foot; the published share of the ankle's height where it has none. */
function soleDrop(study: Study, foot: number, legLength: number): number {
  const rig = rigOf(study);
  const positions = restPositionsOf(study);
  const up = upIndexOf(study);
  let drop = 0;
  for (let node = foot; node < foot + rig.subtreeSize[foot]; node++) {
    drop = Math.max(drop, positions[3 * foot + up] - positions[3 * node + up]);
  }
  const share = lengthShare.ankleHeight / (lengthShare.thigh + lengthShare.shin);
  return drop > 0 ? drop : share * legLength;
}

/** Largest side of the box around the keys of a figure's root, document units. */
function rootTravel(study: Study, figure: Figure): number {
  const id = rigOf(study).ids[figure.root];
  let largest = 0;
  for (const channel of ["translation.x", "translation.y", "translation.z"] as const) {
    const values = curveOf(study, curveName(id, channel))?.values;
    if (values !== undefined && values.length > 0) {
      largest = Math.max(
        largest,
        values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b)),
      );
    }
  }
  return largest;
}
