import type { Study } from "../../../base/study.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import type { PlantTravel } from "../../../motion/ground/plant-travel.ts";
import { farthestTravel } from "../../../motion/ground/slide.ts";
import { chainOf, worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import type { Span } from "../../../time/span.ts";
import { causesOf, keysFault } from "../../cause.ts";
import type { Fault } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { NoteKey } from "../../note.ts";
import type { SeriesFault } from "../../trial.ts";
import { holdCause, type Still } from "./hold-cause.ts";

/** As many keys as in all notes. */
const mostKeys = 6;

/** What a slide of a foot is compared with. */
export interface SlideBeside {
  /** The sample whose place the foot should keep. */
  readonly hold: number;
  /** The travel as it is told, measured again. */
  readonly fault: SeriesFault;
  /** Travel up to which a foot stays put, metres. */
  readonly limit: number;
  /** Stretches in which the figure's other feet bear. */
  readonly otherFeet: readonly PlantTravel[];
}

/**
 * The keys that slide a foot by trial; where none of them does alone, those that drag it off its place; where hips and legs move against each other, those that move most there and that
 * no other foot's leg answers.
 */
export function slideCause(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  { hold, fault, limit, otherFeet }: SlideBeside,
): Fault {
  const tried = triedKeys(study, fault, otherFeet);
  if (tried.length > 0) return keysFault(tried);
  const { planted, plant, between } = stretch;
  const { node, surface } = planted.contact;
  const whole = { from: 0, to: plant.to - plant.from };
  const strength = (path: Float64Array) => farthestTravel(path, whole, surface.normal);
  const others = otherFeet.flatMap((other) => stillIn(plant, other));
  const moved = holdCause(study, { node, run: plant, between, hold, strength, others });
  if (moved !== null) return moved;
  const rig = rigOf(study);
  const chain = chainOf(rig, node);
  // What moves a foot that stays put as well is answered by that foot's leg: it is for this leg to answer too.
  const standing = otherFeet.filter((other) => staysThrough(other, between, limit));
  const answered = (above: number) =>
    standing.some(({ planted: { contact } }) => isAbove(rig, above, contact.node));
  const limb = chain.slice(Math.max(0, chain.indexOf(hipsOf(study, figure)))).filter((n) => !answered(n));
  return { kind: "keys", keys: keysOfNodes(study, limb, between.from, between.to, 3) };
}

/** Whether a plant of another foot lasts through all of some samples and its point stays put there. */
function staysThrough(
  { plant, planted: { path, contact } }: PlantTravel,
  within: Span,
  limit: number,
): boolean {
  if (plant.from > within.from || plant.to < within.to) return false;
  return farthestTravel(path, within, contact.surface.normal) <= limit;
}

/** What a plant of another foot travels while this one should keep still; nothing where they do not meet. */
function stillIn(
  plant: Span,
  { plant: own, planted: { contact } }: PlantTravel,
): (Still & { readonly sees: readonly number[] })[] {
  const from = Math.max(plant.from, own.from) - plant.from;
  const to = Math.min(plant.to, own.to) - plant.from;
  if (to <= from) return [];
  const strength = (path: Float64Array) => farthestTravel(path, { from, to }, contact.surface.normal);
  return [{ node: contact.node, strength, sees: [from, to, ...contact.surface.normal] }];
}

/**
 * The keys that slide a foot, by trial. Those come first that leave the other feet where they stand: a key of the hips to
 * which the other leg answers is for this leg to answer, too.
 */
function triedKeys(study: Study, fault: SeriesFault, otherFeet: readonly PlantTravel[]): readonly NoteKey[] {
  const others = fault.others ?? [];
  const stills = otherFeet.flatMap((other) => stillIn({ from: fault.lo, to: fault.hi }, other));
  if (stills.length === 0) return causesOf(study, fault);
  const before = stills.map(({ node, strength }) =>
    strength(worldOf(study, node).position.subarray(3 * fault.lo, 3 * fault.hi + 3)),
  );
  const alone = causesOf(study, {
    ...fault,
    ...(fault.sees && { sees: [...fault.sees, "alone", before, ...stills.flatMap(({ sees }) => sees)] }),
    others: [...others, ...stills.map(({ node }) => node)],
    strength: (path, paths) => {
      let dragged = 0;
      for (let k = 0; k < stills.length; k++)
        dragged = Math.max(dragged, stills[k].strength(paths[others.length + k]) - before[k]);
      return fault.strength(path, paths) + dragged;
    },
  });
  if (alone.length === 0) return [];
  if (alone.length >= mostKeys) return alone.slice(0, mostKeys);
  const isNamed = (key: NoteKey) =>
    alone.some(
      ({ node, channel, index }) => node === key.node && channel === key.channel && index === key.index,
    );
  return [...alone, ...causesOf(study, fault).filter((key) => !isNamed(key))].slice(0, mostKeys);
}
