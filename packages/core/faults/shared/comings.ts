import { referenceRate } from "../../base/constants.ts";
import { excused, excusesIn } from "../../base/excuse.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { type Contact, contactsOf, isSurface } from "../../motion/ground/contact.ts";
import { footPointsOf } from "../../motion/ground/feet.ts";
import { touchesOf } from "../../motion/ground/touch-down.ts";
import { gripsOf } from "../../motion/parts/grips.ts";
import { cutsOf, isCutBetween } from "../../motion/path/cuts.ts";
import { onTwosOf } from "../../motion/path/held.ts";
import { limbPathOf } from "../../motion/path/pace.ts";
import { limbCarrierOf } from "../../rig/limb-carrier.ts";
import { gridOf } from "../../time/grid.ts";
import { handledOf } from "./things/handled.ts";

/** The end of a limb that comes to a contact: when it sets out from where it was farthest off, and when it is there. */
export interface Coming {
  readonly node: number;
  /** What carries the limb. */
  readonly carrier: number;
  readonly from: number;
  readonly to: number;
  /** Metres from where it sets out to where it arrives, seen from the carrier. */
  readonly way: number;
}

/** A limb sets out where it leaves what it was off at most, and is there with so much of the way left (our choice). */
const leaves = 0.985;
const there = 0.04;
/** Longest that a limb is followed back from its contact, frames at 24 per second: what it did before is another move. */
const longest = 36;

/** All comings of a figure's limbs to contacts: feet to the ground, hands to what they take. */
export function comingsOf(study: Study, figure: number): readonly Coming[] {
  const { comings, excuses } = toldComingsOf(study, figure);
  for (const { node, from, to, because } of excuses) excused(node, from, to, because);
  return comings;
}

/** Two checks ask for them: what is excused is told to each. */
const toldComingsOf = measure("comings", (study, figure: number) => {
  let comings: readonly Coming[] = [];
  const excuses = excusesIn(() => {
    comings = allComings(study, figure);
  });
  return { comings, excuses };
});

function allComings(study: Study, figure: number): Coming[] {
  const { count } = gridOf(study);
  const contacts = contactsOf(study, figure);
  const foots = new Map(footPointsOf(study, figure).map(({ node, foot }) => [node, foot]));
  const ends = contacts.map((contact) => ({
    contact,
    limb: foots.get(contact.node) ?? contact.node,
    ...touchesOf(study, figure, contact),
  }));
  const found: Coming[] = [];
  /** The last sample at which each limb has touched something so far. */
  const touched = new Map<number, number>();
  for (const { contact, limb, from, to } of ends) {
    const before = touched.get(limb);
    touched.set(limb, Math.max(before ?? to, to));
    // A foot comes down with the first of its points.
    if (before !== undefined && before >= from - 1) continue;
    const coming = comingTo(study, contact.node, Math.max(0, before ?? 0), from);
    if (coming === null) continue;
    if (fallsOn(study, contact, ends, coming.to)) {
      excused(contact.node, coming.from, coming.to, "the body comes down from the air on it");
      continue;
    }
    found.push(coming);
  }
  const caught = handledOf(study).filter(({ isCatch }) => isCatch);
  for (const { hand, thing, from, figure: owner } of gripsOf(study)) {
    if (owner !== figure || from <= 0 || from >= count - 1) continue;
    const catches = caught.some((one) => one.hand === hand && one.thing === thing && one.from === from);
    if (catches) {
      excused(hand, Math.max(0, from - 1), from, "it catches a thing that flies, and goes along with it");
      continue;
    }
    const coming = comingTo(study, hand, 0, from);
    if (coming !== null) found.push(coming);
  }
  return found;
}

/** Whether nothing else carries a figure when it comes to a surface: it is the fall that brings the limb there. */
function fallsOn(
  study: Study,
  { surface }: Contact,
  all: readonly { readonly contact: Contact; readonly from: number; readonly to: number }[],
  at: number,
): boolean {
  if (!isSurface(study, surface)) return false;
  const { rate } = gridOf(study);
  const before = at - Math.round((2 * rate) / referenceRate);
  return !all.some(({ from, to }) => from <= before && to >= before);
}

/** The way of a limb's end to where it is at a sample, no farther back than another one; null where it came otherwise. */
export function comingTo(study: Study, node: number, earliest: number, contact: number): Coming | null {
  const { rate } = gridOf(study);
  const carrier = limbCarrierOf(study, node);
  if (carrier < 0 || contact <= 0 || onTwosOf(study, node) > 1) return null;
  const first = Math.max(earliest, contact - Math.round((longest * rate) / referenceRate));
  const path = limbPathOf(study, node);
  const left = floats(contact - first + 1);
  let way = 0;
  for (let i = first; i <= contact; i++) {
    left[i - first] = apart(path, i, contact);
    way = Math.max(way, left[i - first]);
  }
  let from = contact - first;
  while (from > 0 && left[from] <= leaves * way) from--;
  let to = from;
  while (to < contact - first && left[to] >= there * way) to++;
  // What moves as the shot begins may have set out long before.
  if (first + from === 0) return null;
  const coming = { node, carrier, from: first + from, to: first + to, way };
  return isCutBetween(cutsOf(study, node), coming.from, coming.to) ? null : coming;
}

/** Metres between two samples of a path. */
function apart(path: Float64Array, i: number, k: number): number {
  return Math.hypot(
    path[3 * i] - path[3 * k],
    path[3 * i + 1] - path[3 * k + 1],
    path[3 * i + 2] - path[3 * k + 2],
  );
}

/**
 * Share of a way that is left some samples before its end.
 * @param path 3 numbers per sample @param from where it begins @param to where it ends @param before samples, may be a fraction
 */
export function leftBefore(path: Float64Array, from: number, to: number, before: number): number {
  const at = Math.max(from, to - before);
  const i = Math.min(Math.floor(at), to - 1);
  const left = apart(path, i, to) + (at - i) * (apart(path, i + 1, to) - apart(path, i, to));
  return left / Math.max(apart(path, from, to), 1e-9);
}
