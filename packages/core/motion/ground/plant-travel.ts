import type { Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { cutsOf, isCutBetween } from "../path/cuts.ts";
import { nodeContactAt, plantShares } from "./contact.ts";
import { type PlantedContact, plantedContactsOf } from "./contact-plants.ts";
import { footPointsOf } from "./feet.ts";
import { hipsOf } from "./foot-plant.ts";
import { levelWidthShare } from "./foot-points.ts";
import { farthestApart, stepAlong, type Travel } from "./slide.ts";
import { standingLevelOf } from "./standing.ts";
import { heightAt } from "./surface.ts";

/** One plant of a contact, and how far its point goes along the surface in it. */
export interface PlantTravel extends Travel {
  readonly planted: PlantedContact;
  readonly plant: Span;
  /** Whether step keys cut from pose to pose on the way, while another foot stands: it may be a small step. */
  readonly mayStep: boolean;
}

/** The plants of some contacts of a figure, quick steps along the ground cut out. */
function plantTravelsOf(
  study: Study,
  figure: number,
  stepSpeed: number,
  contacts: readonly PlantedContact[],
): PlantTravel[] {
  // Faster than a plant lasts a foot swings.
  const swingSpeed = plantShares.leaveSpeed * statureOf(study, figure);
  const { dt } = gridOf(study);
  const travels: PlantTravel[] = [];
  const feet = new Set(footPointsOf(study, figure).map(({ node }) => node));
  for (const planted of contacts) {
    if (planted.contact.slides) continue;
    const { path, contact } = planted;
    // A hand makes no steps within a contact that is declared: it is said to touch all the while.
    const isHeld = contact.declared && !feet.has(contact.node);
    for (const plant of planted.plants) {
      const pieces = isHeld
        ? [plant]
        : withoutSteps(study, figure, planted, plant, stepSpeed * dt, swingSpeed * dt);
      for (const piece of pieces) {
        const travel = farthestApart(path, piece, contact.surface.normal);
        const { from, to } = travel.between;
        const mayStep =
          !isHeld &&
          isCutBetween(cutsOf(study, contact.node), from, to) &&
          otherEnds(study, figure, contact.node).other.some((node) =>
            standsThrough(study, node, from, to, stepSpeed * dt),
          );
        travels.push({ planted, plant: piece, ...travel, mayStep });
      }
    }
  }
  return travels;
}

/**
 * Cuts a plant where the point goes along the ground at the speed of a step while the other foot stands, and where it
 * goes as fast as a swinging foot.
 */
function withoutSteps(
  study: Study,
  figure: number,
  planted: PlantedContact,
  plant: Span,
  quick: number,
  swinging: number,
): Span[] {
  const { path, contact } = planted;
  const { own, other } = otherEnds(study, figure, contact.node);
  const cuts = cutsOf(study, contact.node);
  const pieces: Span[] = [];
  const stepTo = (i: number) => stepAlong(path, i, contact.surface.normal);
  // A swing along the ground brakes, or sets off, within the frames in which the foot is down already, or still is.
  let first = plant.from;
  let end = plant.to;
  if (fastestFrom(first, -1) > swinging) while (first < end && stepTo(first + 1) < stepTo(first)) first++;
  if (fastestFrom(end + 1, 1) > swinging) while (end > first && stepTo(end) < stepTo(end + 1)) end--;
  const close = (last: number) => {
    if (last > first) pieces.push({ from: first, to: last });
  };
  for (let i = first + 1; i <= end; i++) {
    if (stepTo(i) < quick) continue;
    let last = i;
    let fastest = stepTo(i);
    while (last < end) {
      const step = stepTo(last + 1);
      if (step < quick) break;
      fastest = Math.max(fastest, step);
      last++;
    }
    const stands = (node: number) => standsThrough(study, node, i - 1, last, quick);
    // From pose to pose by step keys everything is quick, whether it steps or is pushed aside.
    if (last === i && isCutBetween(cuts, i - 1, i)) {
      const isRelieved = other.some(stands);
      const peels = isRelieved && isRolled(study, figure, planted, [contact.node, ...own], i - 1);
      if (!own.some(stands) && (peels || isCutStep(study, figure, planted, i, isRelieved))) {
        close(i - 1);
        first = i;
      }
      continue;
    }
    // A foot that turns about its own other end goes nowhere, however quickly.
    if (fastest > swinging || (other.some(stands) && !own.some(stands))) {
      close(i - 1);
      first = last;
    }
    i = last;
  }
  close(end);
  return pieces;

  /** The longest of the steps, quick ones without a break, from one on forward or backward. */
  function fastestFrom(step: number, way: 1 | -1): number {
    let most = 0;
    for (let i = step; i >= 1 && 3 * i < path.length; i += way) {
      const length = stepTo(i);
      if (length < quick) break;
      most = Math.max(most, length);
    }
    return most;
  }
}

/** A body that makes a step goes along with its foot, by half of the way in the usual one; by less than half of that it
 * stays where it is (our choice). */
const leastAlong = 0.25;
/** A body that goes on by more than this, in ways of the foot that carries it alone, leaves it behind: it makes no hop (our choice). */
const mostAlong = 2;

/**
 * Whether a foot that is down in two poses, between which step keys cut, made a step from the one to the other. It goes by
 * the length of a foot or more, or takes the hips along; if nothing else stands it is a hop, in which they go as far.
 * @param sample the first one of the second pose
 * @param isRelieved whether another foot stands in both poses, and stays where it is
 */
function isCutStep(
  study: Study,
  figure: number,
  { path, contact: { surface } }: PlantedContact,
  sample: number,
  isRelieved: boolean,
): boolean {
  const way = stepAlong(path, sample, surface.normal);
  if (way >= lengthShare.foot * statureOf(study, figure)) return true;
  const { position } = worldOf(study, hipsOf(study, figure));
  let along = 0;
  let out = 0;
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * sample + axis;
    const step = path[k] - path[k - 3];
    along += step * (position[k] - position[k - 3]);
    out += step * surface.normal[axis];
  }
  for (let axis = 0; axis < 3; axis++) {
    const k = 3 * sample + axis;
    along -= out * surface.normal[axis] * (position[k] - position[k - 3]);
  }
  const share = along / way ** 2;
  return share >= leastAlong && (isRelieved || share <= mostAlong);
}

/** Whether a foot is rolled up at a sample: one of its points is off the ground, as before a step. */
function isRolled(
  study: Study,
  figure: number,
  { contact: { surface } }: PlantedContact,
  points: readonly number[],
  sample: number,
): boolean {
  const least = levelWidthShare * statureOf(study, figure);
  return points.some((node) => {
    const height = heightAt(surface, worldOf(study, node).position, sample);
    return height - standingLevelOf(study, figure, node) > least;
  });
}

/** The other points of the foot that a node belongs to, and those of the other feet. */
function otherEnds(study: Study, figure: number, node: number): { own: number[]; other: number[] } {
  const points = footPointsOf(study, figure);
  const foot = points.find((point) => point.node === node)?.foot;
  return {
    own: points.filter((point) => point.node !== node && point.foot === foot).map((point) => point.node),
    other: points.filter((point) => point.foot !== foot).map((point) => point.node),
  };
}

/** Whether a node is planted, and slow, from one sample to another. */
function standsThrough(study: Study, node: number, from: number, to: number, quick: number): boolean {
  const planted = nodeContactAt(study, node);
  const { position } = worldOf(study, node);
  for (let i = from; i <= to; i++) if (planted[i] === 0) return false;
  const a = 3 * from;
  const b = 3 * to;
  const way = lengthOf(
    position[b] - position[a],
    position[b + 1] - position[a + 1],
    position[b + 2] - position[a + 2],
  );
  return way <= 0.5 * quick * (to - from);
}

/**
 * The plants of a figure's contacts, by foot (ankle and ball of one side); nodes that are no foot stand alone.
 * @param stepSpeed m/s from which a foot goes along the ground in a step, while the other one stands
 * @param aloft contacts beside those of the figure: feet that stand in the air
 */
export function plantTravelsByFoot(
  study: Study,
  figure: number,
  stepSpeed: number,
  aloft: readonly PlantedContact[] = [],
): PlantTravel[][] {
  const { partOf } = figuresOf(study)[figure];
  const groups = new Map<string, PlantTravel[]>();
  const contacts = [...plantedContactsOf(study, figure), ...aloft];
  for (const travel of plantTravelsOf(study, figure, stepSpeed, contacts)) {
    const { node } = travel.planted.contact;
    const part = partOf.get(node);
    const foot = part?.replace("Toes", "Foot");
    const name = foot === "leftFoot" || foot === "rightFoot" ? foot : `node ${node}`;
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [travel]);
    else group.push(travel);
  }
  return [...groups.values()];
}
