import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { figureOfNode, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { steadyPathOf } from "../path/steady.ts";
import { footPointsOf } from "./feet.ts";
import { besideShare, groundOf, isSurface, standingSpeedOf, standingWindow, surfacesOf } from "./foot.ts";
import type { FootPointKind } from "./foot-points.ts";
import { addInHands } from "./in-hands.ts";
import { plantsIn, standingSpeeds } from "./plant.ts";
import { plantLimitsFor, plantShares } from "./plant-limits.ts";
import { seatedAt } from "./seats.ts";
import { standingLevelOf } from "./standing.ts";
import { heightAt, heightsOver, type Surface, sameSurface } from "./surface.ts";

export { groundOf, isSurface, surfacesOf } from "./foot.ts";
export { plantShares } from "./plant-limits.ts";

import { bytes } from "../../base/room.ts";

export type { Surface } from "./surface.ts";

/**
 * A stretch in which a point of a body touches a surface. `from` and `to` are grid indices, both included. Three words
 * are kept apart here: a *contact* is a point that touches a surface; a *plant* is a contact that lasts and stands
 * still (what is inferred from the motion of feet are plants); *support* is what carries the body at a sample.
 */
export interface Contact {
  readonly node: number;
  readonly point: FootPointKind;
  readonly from: number;
  readonly to: number;
  readonly surface: Surface;
  /** Whether the document declares it; else it is inferred from height and speed. */
  readonly declared: boolean;
  /** Whether the document says that it slides on purpose. */
  readonly slides: boolean;
  /** Speed toward the surface just before it lands, m/s; 0 where it does not land. */
  readonly landing: number;
}

/**
 * Contacts of a figure, in order of their first sample: those that the document declares, of any node, and those of
 * the feet that are inferred. On a surface with which a node has declared contacts it has no others, nor on any while one
 * lasts. Hands, seats and props support only where they are declared.
 * @param figure index into `figuresOf`
 * @returns contacts with the indices of their first and last sample
 */
export const contactsOf = measure(
  "contacts",
  (study, figure: number): readonly Contact[] => contactsOn(study, figure, shownMotion),
  sameContacts,
);

/**
 * Contacts as {@link contactsOf}, of steady paths: as they are without what lasts for a frame or two. A pop of a body
 * breaks none of them, and makes none.
 * @param figure index into `figuresOf`
 * @returns contacts with the indices of their first and last sample
 */
export const steadyContactsOf = measure(
  "steady contacts",
  (study, figure: number): readonly Contact[] => contactsOn(study, figure, steadyMotion),
  sameContacts,
);

/** The motion of points from which contacts are told: where they are, and how fast they are for what may stand. */
interface PointMotion {
  readonly pathOf: (study: Study, node: number) => Float64Array;
  readonly speedOf: (study: Study, node: number) => Float64Array;
}

const shownMotion: PointMotion = {
  pathOf: (study, node) => worldOf(study, node).position,
  speedOf: standingSpeedOf,
};

const steadyMotion: PointMotion = {
  pathOf: steadyPathOf,
  speedOf: (study, node) => {
    const { rate, dt } = gridOf(study);
    return standingSpeeds(steadyPathOf(study, node), standingWindow(rate), dt);
  },
};

function contactsOn(study: Study, figure: number, motion: PointMotion): readonly Contact[] {
  const contacts = declaredContacts(study, figure, motion);
  const declared = contacts.slice();
  for (const { node, point } of footPointsOf(study, figure)) {
    const own = declared.filter((contact) => contact.node === node);
    const standing = standingLevelOf(study, figure, node);
    for (const { plant, surface } of plantsOf(study, figure, node, standing, motion)) {
      const isRuled = (contact: Contact) =>
        sameSurface(contact.surface, surface) || (contact.from <= plant.to && contact.to >= plant.from);
      if (own.some(isRuled)) continue;
      const landing = landingSpeed(study, motion.pathOf(study, node), plant.from, surface);
      contacts.push({ node, point, ...plant, surface, declared: false, slides: false, landing });
    }
  }
  return contacts.sort((a, b) => a.from - b.from || a.node - b.node);
}

/** 1 at the samples at which a node is in a contact of its own. */
export const nodeContactAt = measure(
  "node contact",
  (study, node: number): Uint8Array => {
    const planted = bytes(gridOf(study).count);
    const figure = figureOfNode(study, node);
    if (figure < 0) return planted;
    for (const contact of contactsOf(study, figure)) {
      if (contact.node !== node) continue;
      const { from, to } = rollingOf(study, figure, contact);
      planted.fill(1, from, to + 1);
    }
    return planted;
  },
  sameNumbers,
);

/**
 * The stretch over which a contact carries. Where a foot is known by its ankle alone, a declared contact may cover the
 * flat stance alone, while the foot rolls off or lands around it: it carries for as long as it rolls (see
 * {@link rollingOf}). All else carries from its first
 * sample to its last: a ball that leaves the ground rolls no more, a hand does not roll.
 */
export function carryingOf(study: Study, figure: number, contact: Contact): Span {
  return contact.point === "whole" ? rollingOf(study, figure, contact) : contact;
}

/**
 * The stretch over which an ankle rolls over its foot, around a declared contact: for as long as it is as slow as one
 * whose plant lasts, and no farther from the level at which the contact ends, or starts, than a foot on the ground. A roll
 * of 30° over its toes lifts an ankle by as much. Any other contact as it is.
 */
export function rollingOf(study: Study, figure: number, contact: Contact): Span {
  const { node, point, surface, declared } = contact;
  let { from, to } = contact;
  const rolls =
    (point === "heel" || (point === "whole" && standsAsFoot(study, figure, node))) &&
    isSurface(study, surface);
  if (!declared || !rolls) return { from, to };
  const stature = statureOf(study, figure);
  const { position } = worldOf(study, node);
  const height = (i: number) => heightAt(surface, position, i);
  const speed = standingSpeedOf(study, node);
  const lasts = (i: number, level: number) =>
    Math.abs(height(i) - level) < besideShare * stature && speed[i] < plantShares.leaveSpeed * stature;
  for (const level = height(to); to + 1 < speed.length && lasts(to + 1, level); ) to++;
  for (const level = height(from); from > 0 && lasts(from - 1, level); ) from--;
  return { from, to };
}

/**
 * Whether a node is a foot, whatever the body map calls it: a forepaw, which is mapped as a hand or fingers, stands and
 * rolls over its toes as well. A hand that somebody puts on something is none.
 */
function standsAsFoot(study: Study, figure: number, node: number): boolean {
  const part = figuresOf(study)[figure].partOf.get(node);
  if (part === undefined || part.endsWith("Foot")) return true;
  return footPointsOf(study, figure).some((foot) => foot.node === node && !foot.isNamed);
}

/**
 * 1 at the samples at which anything carries a figure: its contacts, the ends of its toes, what it sits on, and what holds it
 * as the document says.
 */
export const bodyContactAt = measure(
  "body contact",
  (study, figure: number): Uint8Array => {
    const supported = seatedAt(study, figure).slice();
    for (const contact of contactsOf(study, figure)) {
      const { from, to } = carryingOf(study, figure, contact);
      supported.fill(1, from, to + 1);
    }
    for (const { tip } of footPointsOf(study, figure)) {
      if (tip < 0) continue;
      const standing = standingLevelOf(study, figure, tip);
      for (const { plant } of plantsOf(study, figure, tip, standing, shownMotion)) {
        supported.fill(1, plant.from, plant.to + 1);
      }
    }
    addInHands(study, figure, supported);
    return supported;
  },
  sameNumbers,
);

/** Plants of a foot's point on any surface, none of them at the same time as another. */
function plantsOf(
  study: Study,
  figure: number,
  node: number,
  standing: number,
  motion: PointMotion,
): { plant: Span; surface: Surface }[] {
  const { rate } = gridOf(study);
  const limits = plantLimitsFor(statureOf(study, figure), rate);
  const speed = motion.speedOf(study, node);
  const found: { plant: Span; surface: Surface; miss: number }[] = [];
  const surfaces = surfacesOf(study);
  const heights = surfaces.map((surface) => {
    const height = heightsOver(surface, motion.pathOf(study, node));
    for (let i = 0; i < height.length; i++) height[i] -= standing;
    return height;
  });
  nearestOnly(heights);
  for (const [index, surface] of surfaces.entries()) {
    const height = heights[index];
    for (const plant of plantsIn(height, speed, limits)) {
      let miss = 0;
      for (let i = plant.from; i <= plant.to; i++) miss += Math.abs(height[i]) / (plant.to - plant.from + 1);
      found.push({ plant, surface, miss });
    }
  }
  found.sort((a, b) => a.miss - b.miss);
  const kept: { plant: Span; surface: Surface }[] = [];
  for (const { plant, surface } of found) {
    if (kept.every((other) => other.plant.to < plant.from || other.plant.from > plant.to))
      kept.push({ plant, surface });
  }
  return kept;
}

/**
 * Leaves each sample's height to the surface that it is nearest to: planes have no edges, and steps lie side by side.
 */
function nearestOnly(heights: readonly Float64Array[]): void {
  if (heights.length < 2) return;
  for (let i = 0; i < heights[0].length; i++) {
    let nearest = 0;
    for (let k = 1; k < heights.length; k++) {
      if (Math.abs(heights[k][i]) < Math.abs(heights[nearest][i])) nearest = k;
    }
    for (let k = 0; k < heights.length; k++) if (k !== nearest) heights[k][i] = Number.POSITIVE_INFINITY;
  }
}

function declaredContacts(study: Study, figure: number, { pathOf }: PointMotion): Contact[] {
  const grid = gridOf(study);
  const rig = rigOf(study);
  const feet = footPointsOf(study, figure);
  const contacts: Contact[] = [];
  for (const declared of headerOf(study).contacts ?? []) {
    const node = rig.indexOf.get(declared.node);
    if (node === undefined || figureOfNode(study, node) !== figure) continue;
    const [first, last] = declared.frames;
    const from = grid.frames.findIndex((frame) => frame >= first - 1e-9);
    const to = grid.frames.findLastIndex((frame) => frame <= last + 1e-9);
    if (from < 0 || to < from) continue;
    const surface = surfaceNamed(study, declared.with, node, from);
    contacts.push({
      node,
      point: feet.find((foot) => foot.node === node)?.point ?? "whole",
      from,
      to,
      surface,
      declared: true,
      slides: declared.slides ?? false,
      landing: landingSpeed(study, pathOf(study, node), from, surface),
    });
  }
  return contacts;
}

/**
 * A declared surface by its id; for another name (a prop) a level plane where the node is; without a name the ground.
 */
function surfaceNamed(study: Study, name: string | undefined, node: number, at: number): Surface {
  if (name === undefined) return groundOf(study);
  const surface = surfacesOf(study).find(({ id }) => id === name);
  if (surface !== undefined) return surface;
  const height = worldOf(study, node).position[3 * at + 1];
  return { id: name, normal: [0, 1, 0], height, declared: false };
}

/** Speed toward a surface in the faster of the two steps before a sample. */
function landingSpeed(study: Study, path: Float64Array, from: number, surface: Surface): number {
  const { rate } = gridOf(study);
  let fastest = 0;
  for (let i = Math.max(1, from - 1); i <= from; i++) {
    fastest = Math.max(fastest, (heightAt(surface, path, i - 1) - heightAt(surface, path, i)) * rate);
  }
  return fastest;
}

function sameContacts(a: readonly Contact[], b: readonly Contact[]): boolean {
  return (
    a.length === b.length &&
    a.every((contact, index) => {
      const other = b[index];
      return (
        contact.node === other.node &&
        contact.point === other.point &&
        contact.from === other.from &&
        contact.to === other.to &&
        contact.declared === other.declared &&
        contact.slides === other.slides &&
        contact.landing === other.landing &&
        sameSurface(contact.surface, other.surface)
      );
    })
  );
}
