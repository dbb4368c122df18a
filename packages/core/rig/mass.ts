import { measure } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import { deLeva } from "./de-leva.ts";
import { type Figure, foundFiguresOf } from "./figures.ts";
import { distance } from "./hierarchy.ts";
import { lengthShare } from "./proportions.ts";
import { type Rig, restPositionsOf, rigOf } from "./rig.ts";
import { metresPerUnitOf, statureOf } from "./stature.ts";

/** A piece of a body's mass between two nodes. */
export interface Segment {
  /** Rig indices; the centre of mass stands at from + along · (to − from), beyond `to` where along is above 1. */
  readonly from: number;
  readonly to: number;
  readonly along: number;
  /** Share of the body's mass; a figure's segments sum to 1. */
  readonly mass: number;
  readonly part: BodyPart | null;
}

/**
 * Segments of a figure (index into `figuresOf`). A human's are de Leva's ({@link deLeva}), their endpoints fitted to
 * the joints that the rig has; the mass of a part that is not there goes to the part that would carry it. Any other
 * figure's mass is spread over its bones by volume: like cylinders of one slenderness, so with the cube of length,
 * each centred half way.
 */
export const segmentsOf = measure<number, readonly Segment[]>(
  "segments",
  (study, index) => {
    const figure = foundFiguresOf(study).found[index]?.figure;
    if (figure === undefined) return [];
    const rig = rigOf(study);
    const positions = restPositionsOf(study);
    const stature = statureOf(study, index) / metresPerUnitOf(study);
    const human = figure.kind === "human" ? humanSegments({ rig, positions, figure, stature }) : null;
    return human ?? boneSegments(rig, positions, figure);
  },
  (a, b) => a.length === b.length && a.every((segment, i) => sameSegment(segment, b[i])),
);

interface Body {
  readonly rig: Rig;
  readonly positions: Float64Array;
  readonly figure: Figure;
  /** Document units. */
  readonly stature: number;
}

/** Share of the foot's length that lies behind the ankle joint; from memory, common proportion. */
const heelShare = 0.25;

function humanSegments(body: Body): readonly Segment[] | null {
  const joint = (part: BodyPart) => body.figure.parts.get(part)?.[0];
  const segments: Segment[] = [];
  let trunk: number = deLeva.trunk.mass;
  const head = joint("head");
  if (head === undefined) trunk += deLeva.head.mass;
  else segments.push(headSegment(body, head, joint("neck") ?? joint("chest") ?? joint("root") ?? head));
  for (const side of ["left", "right"] as const) {
    trunk += addArm(body, side, segments);
    trunk += addLeg(body, side, segments);
  }
  const trunkSegments = fitTrunk(joint);
  if (trunkSegments === null) return null;
  for (const segment of trunkSegments) segments.push({ ...segment, mass: segment.mass * trunk });
  const sum = segments.reduce((total, { mass }) => total + mass, 0);
  return segments.map((segment) => ({ ...segment, mass: segment.mass / sum }));
}

/** Trunk from mid-hip to mid-shoulder: half of it from each hip joint to the shoulder joint of its side. */
function fitTrunk(joint: (part: BodyPart) => number | undefined): Segment[] | null {
  const along = 1 - deLeva.trunk.along;
  const fallbackTop = joint("neck") ?? joint("chest") ?? joint("head");
  const fallbackBase = joint("root");
  const halves: Segment[] = [];
  for (const side of ["left", "right"] as const) {
    const from = joint(`${side}Thigh`) ?? fallbackBase;
    const to = joint(`${side}UpperArm`) ?? fallbackTop ?? joint("root");
    if (from === undefined || to === undefined) return null;
    halves.push({ from, to, along, mass: 0.5, part: "chest" });
  }
  return halves;
}

/**
 * Head with neck. Where the rig has a neck, the head joint stands about at the chin's height and the centre of mass
 * lies above it by what is left of the distance from cervicale; else the head joint is taken for the cervicale.
 */
function headSegment(body: Body, head: number, below: number): Segment {
  const { rig, positions, figure, stature } = body;
  const tip = farthestBelow(rig, positions, head, (node) => figure.partOf.get(node) === "head");
  const reach = lengthShare.headAndNeck * stature;
  const neck = figure.parts.get("neck")?.[0];
  const neckLength = neck === undefined ? 0 : distance(positions, neck, head);
  const above = Math.max((1 - deLeva.head.along) * reach - neckLength, 0);
  const [from, to] = tip >= 0 ? [head, tip] : [below, head];
  const length = distance(positions, from, to);
  const start = tip >= 0 ? 0 : 1;
  return { from, to, along: start + (length > 0 ? above / length : 0), mass: deLeva.head.mass, part: "head" };
}

/** Adds what a side's arm has, and gives the mass that is left for the trunk. */
function addArm(body: Body, side: "left" | "right", segments: Segment[]): number {
  const { rig, positions, figure, stature } = body;
  const joint = (part: BodyPart) => figure.parts.get(part)?.[0];
  const upper = joint(`${side}UpperArm`);
  const fore = joint(`${side}Forearm`);
  const hand = joint(`${side}Hand`);
  let loose = 0;
  const add = (
    table: { mass: number; along: number },
    from: number,
    to: number,
    part: BodyPart,
    along = table.along,
  ) => {
    segments.push({ from, to, along, mass: table.mass + loose, part });
    loose = 0;
  };
  if (hand === undefined) loose += deLeva.hand.mass;
  else {
    const tip = farthestBelow(rig, positions, hand, () => true);
    const above = fore ?? upper ?? rig.parent[hand];
    if (tip >= 0) add(deLeva.hand, hand, tip, `${side}Hand`);
    else if (above < 0) add(deLeva.hand, hand, hand, `${side}Hand`);
    else {
      const length = distance(positions, above, hand);
      const beyond = deLeva.hand.along * lengthShare.hand * stature;
      add(deLeva.hand, above, hand, `${side}Hand`, 1 + (length > 0 ? beyond / length : 0));
    }
  }
  if (fore !== undefined && hand !== undefined) add(deLeva.forearm, fore, hand, `${side}Forearm`);
  else loose += deLeva.forearm.mass;
  const elbow = fore ?? hand;
  if (upper !== undefined && elbow !== undefined) add(deLeva.upperArm, upper, elbow, `${side}UpperArm`);
  else loose += deLeva.upperArm.mass;
  return loose;
}

/** Adds what a side's leg has, and gives the mass that is left for the trunk. */
function addLeg(body: Body, side: "left" | "right", segments: Segment[]): number {
  const { rig, positions, figure } = body;
  const joint = (part: BodyPart) => figure.parts.get(part)?.[0];
  const thigh = joint(`${side}Thigh`);
  const shin = joint(`${side}Shin`);
  const foot = joint(`${side}Foot`);
  let loose = 0;
  const add = (table: { mass: number }, from: number, to: number, part: BodyPart, along: number) => {
    segments.push({ from, to, along, mass: table.mass + loose, part });
    loose = 0;
  };
  if (foot === undefined) loose += deLeva.foot.mass;
  else {
    const tip = farthestBelow(rig, positions, foot, () => true);
    const along = (deLeva.foot.along - heelShare) / (1 - heelShare);
    add(deLeva.foot, foot, tip >= 0 ? tip : foot, `${side}Foot`, tip >= 0 ? along : 0);
  }
  if (shin !== undefined && foot !== undefined)
    add(deLeva.shin, shin, foot, `${side}Shin`, deLeva.shin.along);
  else loose += deLeva.shin.mass;
  const knee = shin ?? foot;
  if (thigh !== undefined && knee !== undefined)
    add(deLeva.thigh, thigh, knee, `${side}Thigh`, deLeva.thigh.along);
  else loose += deLeva.thigh.mass;
  return loose;
}

/** The node of a subtree that stands farthest from its top; -1 if none stands apart from it. */
function farthestBelow(
  rig: Rig,
  positions: Float64Array,
  top: number,
  counts: (node: number) => boolean,
): number {
  let best = -1;
  let bestDistance = 0;
  for (let node = top + 1; node < top + rig.subtreeSize[top]; node++) {
    const away = distance(positions, top, node);
    if (away > bestDistance && counts(node)) {
      best = node;
      bestDistance = away;
    }
  }
  return best;
}

function boneSegments(rig: Rig, positions: Float64Array, figure: Figure): readonly Segment[] {
  const bones = figure.nodes
    .filter((node) => node !== figure.root)
    .map((node) => {
      const from = rig.parent[node];
      return { from, to: node, volume: distance(positions, from, node) ** 3 };
    });
  const sum = bones.reduce((total, { volume }) => total + volume, 0);
  if (!(sum > 0)) return [{ from: figure.root, to: figure.root, along: 0, mass: 1, part: "root" }];
  return bones
    .filter(({ volume }) => volume > 0)
    .map(({ from, to, volume }) => ({
      from,
      to,
      along: 0.5,
      mass: volume / sum,
      part: figure.partOf.get(from) ?? null,
    }));
}

function sameSegment(a: Segment, b: Segment): boolean {
  return a.from === b.from && a.to === b.to && a.along === b.along && a.mass === b.mass && a.part === b.part;
}
