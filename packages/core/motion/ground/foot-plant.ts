import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { carrierOf, figuresOf } from "../../rig/body.ts";
import { type Limb, limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import type { Contact } from "./contact.ts";
import { footPointsOf } from "./feet.ts";
import { supportContactsOf } from "./support.ts";

/** One plant of a foot, heel and ball together. */
export interface FootPlant {
  readonly leg: Limb;
  /** The plants of the ankle and of the ball; null where that end is not planted in it. */
  readonly heel: Contact | null;
  readonly toe: Contact | null;
  readonly from: number;
  readonly to: number;
  /** False where the range starts, or ends, in it. */
  readonly lands: boolean;
  readonly leaves: boolean;
}

/** Plants of a figure's feet, in order of their first sample: contacts of ankle and ball that overlap. */
export const footPlantsOf = measure("foot plants", (study, figure: number): readonly FootPlant[] => {
  const { count } = gridOf(study);
  const contacts = supportContactsOf(study, figure);
  const plants: FootPlant[] = [];
  for (const leg of limbsOf(study, figure)) {
    if (leg.kind !== "leg") continue;
    const heels = contacts.filter(({ node }) => node === leg.end);
    const toes = contacts.filter(({ node }) => node === leg.ball);
    for (const toe of toes) {
      const heel = heels.find((other) => other.from <= toe.to && toe.from <= other.to) ?? null;
      plants.push(footPlantOf(leg, heel, toe, count));
    }
    for (const heel of heels) {
      if (!toes.some((toe) => heel.from <= toe.to && toe.from <= heel.to))
        plants.push(footPlantOf(leg, heel, null, count));
    }
  }
  return plants.sort((a, b) => a.from - b.from);
});

/** Plants of feet that no leg of two bones carries, with the first point of the foot. */
export function otherFootContactsOf(study: Study, figure: number): { contact: Contact; foot: number }[] {
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  const found: { contact: Contact; foot: number }[] = [];
  for (const contact of supportContactsOf(study, figure)) {
    const point = footPointsOf(study, figure).find(({ node }) => node === contact.node);
    if (point === undefined || legs.some(({ end, ball }) => end === point.foot || ball === point.node))
      continue;
    found.push({ contact, foot: point.foot });
  }
  return found;
}

function footPlantOf(leg: Limb, heel: Contact | null, toe: Contact | null, count: number): FootPlant {
  const from = Math.min(heel?.from ?? count, toe?.from ?? count);
  const to = Math.max(heel?.to ?? -1, toe?.to ?? -1);
  return { leg, heel, toe, from, to, lands: from > 0, leaves: to < count - 1 };
}

/** Node of the part from which the rest of a figure hangs: its hips. */
export const hipsOf = measure("hips", (study, figure: number): number => {
  return carrierOf(figuresOf(study)[figure]);
});

/**
 * Whether the root of a body is what it stands on, as of a lamp that hops on its foot: then the root tells where the foot is,
 * and not where the body is.
 */
export function standsOnRoot(study: Study, figure: number): boolean {
  const root = hipsOf(study, figure);
  return footPointsOf(study, figure).some(({ node }) => node === root);
}

/** Height of a node, one number per sample, metres over the origin. */
export const heightOf = measure("height", (study, node: number): Float64Array => {
  const { position } = worldOf(study, node);
  const heights = floats(position.length / 3);
  for (let i = 0; i < heights.length; i++) heights[i] = position[3 * i + 1];
  return heights;
});
