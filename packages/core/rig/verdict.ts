import { type Study, shotMeasure } from "../base/study.ts";
import { headerOf } from "../document/inputs.ts";
import type { BodyPart } from "../document/schema.ts";
import { type Figure, figuresOf, standsOnFour, statureOf } from "./body.ts";
import { type FoundFigure, foundFiguresOf } from "./figures.ts";
import { distance, readNames } from "./hierarchy.ts";
import { passingGroundOf } from "./passing-ground.ts";
import { lengthShare } from "./proportions.ts";
import { restPositionsOf, rigOf } from "./rig.ts";
import { scaleOf } from "./stature.ts";
import { upAxisOf, upIndexOf } from "./up.ts";

/** How a verdict was come by: the document says so, all that there is says so, or it is the likeliest. */
export type Certainty = "declared" | "sure" | "guessed";

/** What a body stands or flies on, as far as its rest pose and its names tell. */
export type BodyPlan = "two legs" | "four legs" | "six legs" | "eight legs" | "wings" | "no legs" | "no body";

/** What a figure is taken for. */
export interface BodyVerdict {
  readonly figure: string;
  readonly plan: BodyPlan;
  readonly certainty: Certainty;
  /** Height of a human, largest extent of any other body, metres. */
  readonly stature: number;
}

/** What a shot is taken for: its bodies, its unit of length, the axis that points up. */
export interface ShotVerdict {
  readonly bodies: readonly BodyVerdict[];
  readonly metresPerUnit: number;
  readonly unit: Certainty;
  readonly up: "x" | "y" | "z";
  readonly upCertainty: Certainty;
}

/** Parts that names, or a shape without gaps, have to tell for a body on two legs to be sure. */
const biped: readonly BodyPart[] = ["root", "head", "leftThigh", "rightThigh", "leftFoot", "rightFoot"];
const upperBody: readonly BodyPart[] = ["chest", "leftUpperArm", "rightUpperArm", "leftHand", "rightHand"];
/** From so many parts that names tell on, names are a habit and no accident (our choice). */
const enoughNames = 8;
/** Units in which shots of people are common; others fit a grown person by accident too. */
const commonUnits = [1, 0.01];

/**
 * What a shot is taken for, and how surely. What is declared stands; what names and rest pose agree on is sure; the rest is
 * a guess, on which nothing heavy may hang.
 * @returns one verdict for each of `figuresOf`, in their order, and those on unit and up axis
 */
export const verdictOf = shotMeasure<ShotVerdict>("verdict", (study) => {
  const found = foundFiguresOf(study).found;
  const bodies = found.map((one, index) => bodyVerdict(study, one, index));
  const scale = scaleOf(study);
  const { axis, from } = upAxisOf(study);
  const measured = bodies[scale.figure];
  const isCommon = scale.from === "convention" && commonUnits.includes(scale.metresPerUnit);
  return {
    bodies,
    metresPerUnit: scale.metresPerUnit,
    unit:
      scale.from === "declared" || scale.from === "declared stature"
        ? "declared"
        : isCommon && measured?.certainty !== "guessed"
          ? "sure"
          : "guessed",
    up: axis,
    upCertainty: from === "declared" ? "declared" : from === "rest pose" ? "sure" : "guessed",
  };
});

function bodyVerdict(study: Study, { figure, counts }: FoundFigure, index: number): BodyVerdict {
  const plan = planOf(study, figure);
  const isDeclared = counts.declared > 0 || hasLimbs(study, figure.id);
  return {
    figure: figure.id,
    plan,
    certainty: isDeclared ? "declared" : isSure(study, figure, counts, plan) ? "sure" : "guessed",
    stature: statureOf(study, index),
  };
}

function hasLimbs(study: Study, id: string): boolean {
  return (headerOf(study).figures?.find((spec) => spec.id === id)?.limbs?.length ?? 0) > 0;
}

function planOf(study: Study, figure: Figure): BodyPlan {
  if (figure.kind === "winged") return "wings";
  const legs = legsOf(study, figure);
  if (figure.kind === "human") return "two legs";
  if (standsOnFour(figure)) return "four legs";
  if (legs >= 7) return "eight legs";
  if (legs >= 5) return "six legs";
  if (legs >= 3) return "four legs";
  if (legs === 2) return "two legs";
  return figure.parts.size > 1 || figure.nodes.length > 3 ? "no legs" : "no body";
}

/** Parts whose ends are no feet, however low they hang. */
const neverLegs: ReadonlySet<BodyPart | undefined> = new Set<BodyPart>([
  "head",
  "tail",
  "hair",
  "ears",
  "prop",
]);
/** Ends of legs lie within this share of a body's height in its rest pose (our choice: paws are seldom quite level). */
const levelShare = 0.1;

/** Limbs of which an end stands as low as the lowest of a body that stands clear of it. */
function legsOf(study: Study, figure: Figure): number {
  const rig = rigOf(study);
  const positions = restPositionsOf(study);
  const up = upIndexOf(study);
  const heightOf = (node: number) => positions[3 * node + up];
  const heights = figure.nodes.map(heightOf);
  const low = Math.min(...heights);
  const high = Math.max(...heights);
  const level = low + levelShare * (high - low);
  const { names } = readNames(rig);
  const limbs = new Set<number>();
  for (const node of figure.nodes) {
    if (rig.children[node].length > 0 || heightOf(node) > level || neverLegs.has(figure.partOf.get(node)))
      continue;
    const top = limbOf(study, figure, node);
    // What lies on the floor from where it leaves the trunk, as a snake's tail does, is no leg.
    if (heightOf(top) > level && !names[top].fin) limbs.add(top);
  }
  return limbs.size;
}

/** The topmost node of the limb that ends in a node: where it leaves a joint of the trunk, or the root. */
function limbOf(study: Study, figure: Figure, end: number): number {
  const rig = rigOf(study);
  const trunk = new Set<number>([figure.root]);
  for (const part of ["root", "spine", "chest", "neck"] as const) {
    for (const node of figure.parts.get(part) ?? []) trunk.add(node);
  }
  let at = end;
  while (rig.parent[at] >= 0 && !trunk.has(rig.parent[at])) at = rig.parent[at];
  return at;
}

function isSure(study: Study, figure: Figure, { names }: FoundFigure["counts"], plan: BodyPlan): boolean {
  const has = (part: BodyPart) => figure.parts.has(part);
  const fromNames = names >= enoughNames;
  switch (plan) {
    case "two legs":
      if (figure.kind !== "human" || !biped.every(has)) return false;
      return fromNames || (upperBody.every(has) && isBuiltLikePeople(study, figure));
    case "wings":
      return fromNames;
    case "four legs":
      return fromNames;
    default:
      return false;
  }
}

/**
 * Whether legs and arms have the lengths of people's, of all that a body is long from foot to head: a bird without names
 * has the limbs of a biped too, and others' proportions.
 */
function isBuiltLikePeople(study: Study, { parts }: Figure): boolean {
  const positions = restPositionsOf(study);
  const first = (part: BodyPart) => parts.get(part)?.[0] ?? -1;
  const way = (...chain: readonly number[]) =>
    chain.slice(1).reduce((sum, node, i) => sum + distance(positions, chain[i], node), 0);
  const leg = way(first("leftThigh"), first("leftShin"), first("leftFoot"));
  const arm = way(first("leftUpperArm"), first("leftForearm"), first("leftHand"));
  const trunk = way(first("root"), first("chest"), first("head"));
  const share = lengthShare;
  // From hip to ankle and on to the head joint, and the arm beside it, as published for grown people.
  const legs = share.thigh + share.shin;
  const height = 1 - share.ankleHeight - share.head;
  const isNear = (value: number, published: number) =>
    value > published / buildFactor && value < published * buildFactor;
  return (
    isNear(leg / (leg + trunk), legs / height) &&
    isNear(arm / (leg + trunk), (share.upperArm + share.forearm) / height)
  );
}

/** Children, giants and drawn figures differ from grown people by less than this factor (our choice). */
const buildFactor = 1.4;

/**
 * What is guessed of a shot, or found by its motion, each with what would settle it: one sentence for each.
 * @returns sentences; empty where nothing is
 */
export function guessesOf(study: Study): readonly string[] {
  const { bodies, up, upCertainty, unit, metresPerUnit } = verdictOf(study);
  const isBody = (index: number) => figuresOf(study)[index].nodes.length > 3;
  const sentences = bodies.flatMap(({ figure, plan, certainty }, index) =>
    certainty === "guessed" && isBody(index)
      ? [
          `figure "${figure}": taken for a body with ${plan}, which is a guess; "figures": [{ "id": ${JSON.stringify(figure)}, "parts": { … } }] settles it`,
        ]
      : [],
  );
  if (unit === "guessed" && bodies.length > 0)
    sentences.push(
      `the unit is a guess, and what hangs on it is polish; "space": { "metresPerUnit": ${Number(metresPerUnit.toPrecision(4))} } would settle it`,
    );
  if (upCertainty === "sure" && up !== "y")
    sentences.push(
      `${up} is taken for the axis that points up, as the hips of the rest pose stand over its feet that way; "space": { "up": "${up}" } settles it`,
    );
  const passing = passingGroundOf(study);
  if (passing !== null)
    sentences.push(
      `figure "${figuresOf(study)[0].id}" goes in place: it is judged as over ground that passes at ${Math.hypot(...passing).toFixed(2)} m/s; declared contacts tie its feet to the world instead`,
    );
  return sentences;
}
