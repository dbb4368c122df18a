import { referenceRate } from "../../base/constants.ts";
import { measure, type Study } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { heldOf } from "../path/held.ts";
import { type Contact, contactsOf, isSurface } from "./contact.ts";
import { footPointsOf } from "./feet.ts";
import { lowestCluster } from "./plant.ts";
import { soleOffsetOf, solePathOf } from "./sole-path.ts";
import { heightsOver } from "./surface.ts";

/** A contact with its plants, seen at the point that touches. */
export interface PlantedContact {
  readonly contact: Contact;
  /** Path of the point that touches (see {@link solePathOf}), 3 numbers per sample. */
  readonly path: Float64Array;
  /** Where that point lies from the node, in the node's axes, metres. */
  readonly offset: ArrayLike<number>;
  /** Its height over the surface at which it stands in this contact, metres. */
  readonly level: number;
  /** Stretches in which it is planted: it is down, without the samples at which it lands or leaves. */
  readonly plants: readonly Span[];
  /** The last sample at which it is down, that at which it leaves. */
  readonly lastDown: number;
}

/**
 * A point is down within this many body heights (about 1 cm) of the level at which it stands, as for flights (our
 * choice).
 */
const downShare = 0.006;

/**
 * The plants of each contact of a figure with a surface. A contact as such (see `contactsOf`) lasts from the first
 * sample at which a foot is nearly down to the last one; here the point of the sole is down, and one frame at 24 per
 * second is left out on each side, in which a foot may touch or leave between two samples. Declared contacts are taken
 * as they are declared, but for a pose in step keys in which the point is still up. Contacts with things that are no surface (a prop) are left out.
 */
export const plantedContactsOf = measure(
  "planted contacts",
  (study, figure: number): readonly PlantedContact[] => {
    const found: PlantedContact[] = [];
    for (const contact of contactsOf(study, figure)) {
      if (!isSurface(study, contact.surface)) continue;
      const planted = plantedIn(study, figure, contact);
      if (planted.plants.length > 0) found.push(planted);
    }
    return found;
  },
);

/**
 * The plants of a contact.
 * @param figure index into `figuresOf`
 */
export function plantedIn(study: Study, figure: number, contact: Contact): PlantedContact {
  const { rate, count } = gridOf(study);
  const trim = Math.max(1, Math.round(rate / referenceRate));
  const down = downShare * statureOf(study, figure);
  const { from, to } = contact;
  const isFoot = isOfFoot(study, figure, contact.node);
  const path = isFoot ? solePathOf(study, contact.node) : worldOf(study, contact.node).position;
  const offset = isFoot ? soleOffsetOf(study, contact.node) : atNode;
  const height = heightsOver(contact.surface, path.subarray(3 * from, 3 * to + 3));
  const level = lowestCluster(height.slice().sort(), down);
  const plants: Span[] = [];
  let lastDown = to;
  if (contact.declared) {
    const first = shownFrom(study, contact, (i) => height[i - from] <= level + down);
    if (first < to) plants.push({ from: first, to });
  } else {
    let first = -1;
    for (let i = from; i <= to + 1; i++) {
      const isDown = i <= to && height[i - from] <= level + down;
      if (isDown && first < 0) first = i;
      if (isDown) lastDown = i;
      if (isDown || first < 0) continue;
      const plant = {
        from: first === 0 ? 0 : first + trim,
        to: i - 1 === count - 1 ? i - 1 : i - 1 - trim,
      };
      if (plant.to > plant.from) plants.push(plant);
      first = -1;
    }
  }
  return { contact, path, offset, level, plants, lastDown };
}

/**
 * The first sample of a declared contact that shows it: a pose that step keys hold from before the contact, and in which
 * the point is not down, is one of the swing.
 */
function shownFrom(study: Study, { node, from, to }: Contact, isDown: (sample: number) => boolean): number {
  const held = heldOf(study, node);
  if (held[from] === 0 || isDown(from)) return from;
  let first = from;
  while (first <= to && held[first] === 1) first++;
  return first;
}

const atNode = [0, 0, 0] as const;

/** Joints of feet stand above their soles; any other node touches where it is. */
function isOfFoot(study: Study, figure: number, node: number): boolean {
  const part = figuresOf(study)[figure].partOf.get(node);
  const isNamed = part === "leftFoot" || part === "rightFoot" || part === "leftToes" || part === "rightToes";
  return isNamed || footPointsOf(study, figure).some((point) => point.node === node);
}
