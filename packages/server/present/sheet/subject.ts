import {
  type BodyPart,
  type Check,
  type Family,
  type Figure,
  figureOfNode,
  figuresOf,
  gridOf,
  inDegrees,
  localAngularSpeedOf,
  massCentreOf,
  type Note,
  nodeNameOf,
  rigOf,
  type Study,
  speedOf,
  statureOf,
  type Unit,
  worldOf,
} from "@keyside/core";
import { kindOf, numbersInWords, restPositionsOf } from "@keyside/core/internal";
import { swingArm } from "./draw/swing.ts";
import type { Span } from "./draw/view.ts";

/** What the pictures of a note follow. */
export interface Subject {
  /** Node (rig index) whose path is drawn, and what it is called. */
  readonly node: number;
  readonly name: string;
  /** A point that is fixed to the node, away from it, whose path is drawn instead of its own; null for none. */
  readonly arm: readonly [number, number, number] | null;
  /** The other side's node, where the fault is that both do the same; -1 for none. */
  readonly mirror: number;
  /** Index of the figure; -1 for none. */
  readonly figure: number;
  /** Nodes whose bones are drawn dark. */
  readonly marked: ReadonlySet<number>;
  /** Whether the fault lies between parts, so that the way of the whole figure is no part of it. */
  readonly isWithin: boolean;
  /** Whether the fault lies in the shape of the path, which may then not be drawn apart. */
  readonly isOfShape: boolean;
  /** The number over time that shows the fault. */
  readonly graph: Graph;
}

/** A series over time, and how to work it out again on the fixed shot. */
export interface Graph {
  readonly label: string;
  readonly unit: Unit;
  /** One number per judged frame; NaN where there is none. */
  values(study: Study): Float64Array;
  /** Whether it can be worked out on another study, too. */
  readonly again: boolean;
}

/**
 * What a reviewer would follow with the pencil: the point on which the fault shows; the end of what turns where the
 * fault is one of turning.
 */
export function subjectOf(
  study: Study,
  note: Note,
  { family, comparesMirrored }: Pick<Check, "family" | "comparesMirrored">,
  noted: Span,
): Subject | null {
  const rig = rigOf(study);
  const shown = rig.indexOf.get(note.seenAt[0] ?? note.node ?? "") ?? rootOf(study, note.figure);
  if (shown < 0) return null;
  const figure = figureOfNode(study, shown);
  const isTurn = turns(note, family);
  const owner = rig.indexOf.get(note.node ?? "") ?? shown;
  const arm = isTurn ? armOf(study, owner, noted) : null;
  const node = arm !== null ? owner : isTurn ? endOf(study, shown) : shown;
  const mirror = comparesMirrored === true ? mirrored(figuresOf(study)[figure], node) : -1;
  const marked = new Set([shown, ...(mirror < 0 ? [] : [node, mirror])]);
  for (const id of note.seenAt) {
    const seen = rig.indexOf.get(id);
    if (seen !== undefined) marked.add(seen);
  }
  return {
    node,
    arm,
    name:
      arm === null
        ? nodeNameOf(study, node)
        : `a point ${numbersInWords.length(Math.hypot(...arm))} off the axis of the ${nodeNameOf(study, node)}`,
    mirror,
    figure,
    marked: withBases(study, marked),
    isWithin: family === "parts",
    isOfShape: family === "paths",
    graph: graphOf(study, note, family, isTurn ? owner : node, isTurn),
  };
}

function rootOf(study: Study, id: string | null): number {
  const figures = figuresOf(study);
  const figure = figures.find((one) => one.id === id) ?? figures[0];
  return figure === undefined
    ? rigOf(study).count > 0
      ? 0
      : -1
    : (figure.parts.get("root")?.[0] ?? figure.root);
}

/** Whether a note speaks of turning: by its unit, its family, or because a node's own turns do not move the node. */
function turns({ measured, keys, seenAt, node }: Note, family: Family): boolean {
  const kind = kindOf(measured.unit);
  if (kind === "angle" || kind === "turningSpeed" || family === "parts") return true;
  const [key] = keys;
  return key?.channel.startsWith("rotation") === true && key.node === (seenAt[0] ?? node);
}

const limbEnds: Readonly<Partial<Record<BodyPart, BodyPart>>> = {
  leftShoulder: "leftHand",
  leftUpperArm: "leftHand",
  leftForearm: "leftHand",
  leftThigh: "leftFoot",
  leftShin: "leftFoot",
  rightShoulder: "rightHand",
  rightUpperArm: "rightHand",
  rightForearm: "rightHand",
  rightThigh: "rightFoot",
  rightShin: "rightFoot",
  // A foot turns about its ball, which stays: what swings is the ankle.
  leftFoot: "leftFoot",
  rightFoot: "rightFoot",
  // A trunk that turns shows at the shoulders.
  root: "leftUpperArm",
  spine: "leftUpperArm",
  chest: "leftUpperArm",
};

/** The point that a turn of a node swings: the end of its limb, or the end of what hangs on it farthest away. */
function endOf(study: Study, node: number): number {
  const figure = figuresOf(study)[figureOfNode(study, node)];
  const part = figure?.partOf.get(node);
  const limbEnd = part === undefined ? undefined : limbEnds[part];
  const end = limbEnd === undefined ? undefined : figure.parts.get(limbEnd)?.[0];
  if (end !== undefined) return end;
  const rig = rigOf(study);
  const rest = restPositionsOf(study);
  const distance = (other: number) =>
    Math.hypot(...[0, 1, 2].map((k) => rest[3 * other + k] - rest[3 * node + k]));
  // Hair and ears swing by themselves; a jaw or a beak is where a head points.
  const belongs = (other: BodyPart | undefined) =>
    part === undefined || other === undefined || other === part || (part === "head" && other === "jaw");
  let farthest = node;
  for (let other = node + 1; other < node + rig.subtreeSize[node]; other++) {
    if (belongs(figure?.partOf.get(other)) && distance(other) > distance(farthest)) farthest = other;
  }
  return farthest === node ? (rig.children[node][0] ?? node) : farthest;
}

/** Length of the arm on which a turn about its own bone is shown, in body heights: half the depth of a chest. */
const armLength = 0.08;

/** An arm for a turn that does not show at the end of what turns, as that of a head that looks round; else null. */
function armOf(study: Study, node: number, noted: Span): Subject["arm"] {
  const end = endOf(study, node);
  const figure = figureOfNode(study, node);
  return swingArm(study, node, end, noted, armLength * (figure < 0 ? 1 : statureOf(study, figure)));
}

/** The node of the other side that is the same part; -1 for none. */
function mirrored(figure: Figure | undefined, node: number): number {
  const part = figure?.partOf.get(node);
  if (figure === undefined || part === undefined || !/^(left|right)/.test(part)) return -1;
  const other = part.startsWith("left") ? part.replace("left", "right") : part.replace("right", "left");
  return figure.parts.get(other as BodyPart)?.[0] ?? -1;
}

/** Nodes with the one above each that is an end of a chain, so that there is a bone to be drawn dark. */
function withBases(study: Study, nodes: ReadonlySet<number>): ReadonlySet<number> {
  const rig = rigOf(study);
  const all = new Set<number>();
  for (const node of nodes)
    all.add(rig.children[node].length === 0 && rig.parent[node] >= 0 ? rig.parent[node] : node);
  return all;
}

/** Height for faults of weight, turning for faults of turning, else speed; the check's own evidence where it has any. */
function graphOf(study: Study, note: Note, family: Family, node: number, isTurn: boolean): Graph {
  const [evidence] = note.evidence;
  const figure = figureOfNode(study, node);
  const isBody = figure >= 0 && figuresOf(study)[figure].parts.get("root")?.[0] === node;
  if (family === "weight" && (evidence === undefined || isBody)) {
    const [label, path] = isBody
      ? ["height of the centre of mass", (of: Study) => massCentreOf(of, figure)]
      : [`height of ${nodeNameOf(study, node)}`, (of: Study) => worldOf(of, node).position];
    const heights = (of: Study) => {
      const points = (path as (of: Study) => Float64Array)(of);
      return Float64Array.from({ length: points.length / 3 }, (_, i) => points[3 * i + 1]);
    };
    return { label: label as string, unit: "m", values: heights, again: true };
  }
  if (evidence !== undefined) {
    return {
      label: evidence.label,
      unit: evidence.unit,
      values: () => onGrid(study, evidence),
      again: false,
    };
  }
  if (isTurn) {
    const degrees = (of: Study) => localAngularSpeedOf(of, node).map((speed) => inDegrees(speed));
    return { label: `turning of ${nodeNameOf(study, node)}`, unit: "deg/s", values: degrees, again: true };
  }
  return {
    label: `speed of ${nodeNameOf(study, node)}`,
    unit: "m/s",
    values: (of) => speedOf(of, node),
    again: true,
  };
}

/** A note's own series, put onto the judged frames. */
function onGrid(study: Study, { firstFrame, step, values }: Note["evidence"][number]): Float64Array {
  return Float64Array.from(gridOf(study).frames, (frame) => {
    const value = values[Math.round((frame - firstFrame) / step)];
    return value ?? Number.NaN;
  });
}
