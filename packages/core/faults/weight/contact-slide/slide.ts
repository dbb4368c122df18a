import type { Seen } from "../../../base/memo-cell.ts";
import type { Study } from "../../../base/study.ts";
import type { PlantedContact } from "../../../motion/ground/contact-plants.ts";
import type { PlantTravel } from "../../../motion/ground/plant-travel.ts";
import {
  soleTravel,
  squaredAlong,
  stepAlong,
  type Travel,
  widestApart,
} from "../../../motion/ground/slide.ts";
import type { Span } from "../../../time/span.ts";
import { downAt } from "../shared/slide-fault.ts";

/** What is told of a slide, as far as the point's path tells it. */
export interface Slide {
  readonly told: Travel;
  /** The sample at which the point moves least. */
  readonly hold: number;
  /** How far it is, at each sample of the plant, from where the plant's travel begins, metres. */
  readonly away: readonly number[];
}

/**
 * How a foot slides in a plant; null where the sole as a whole does not, farther than a limit. It is kept from edit to edit
 * while nothing changes of the plant: the exact travel takes a look at all pairs of its samples. An edit that gives the foot
 * another sole moves the point in all of its plants, and leaves none of them.
 */
export function keptSlideOf(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  other: PlantedContact | null,
  limit: number,
): Slide | null {
  const { planted, plant, between } = stretch;
  const { from, to } = plant;
  const { node, surface } = planted.contact;
  const find = () => slideOf(study, figure, stretch, other, limit);
  if (!study.memo.keepsPieces()) return find();
  const over = ({ path }: PlantedContact) => path.subarray(3 * from, 3 * to + 3);
  const sees: Seen[] = [over(planted), surface.normal, limit, between.from];
  if (other !== null) {
    const { contact, level } = other;
    sees.push(over(other), contact.from, contact.to, contact.surface.normal, contact.surface.height, level);
  }
  // What it looks at of paths it sees by value: it asks for no series, and hangs on no stretch.
  return study.memo.keep(study, `slide of ${node} ${from} ${to}`, -Infinity, Infinity, sees, find);
}

function slideOf(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  other: PlantedContact | null,
  limit: number,
): Slide | null {
  const sole = other === null ? stretch : soleOf(study, figure, stretch, other);
  if (other !== null && !(sole.travel > limit)) return null;
  const { planted, plant, between } = stretch;
  const { normal } = planted.contact.surface;
  return {
    told: toldTravel(study, figure, stretch, other, sole, limit),
    hold: stillest(planted.path, plant, normal),
    away: travelFrom(planted.path, between.from, plant, normal),
  };
}

/** The travel that is told: the largest from the stand before the frames between which the point goes to the one after. */
function toldTravel(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  other: PlantedContact | null,
  sole: Travel,
  limit: number,
): Travel {
  const { planted } = stretch;
  const over = (run: Span) =>
    other === null
      ? widestApart(planted.path, run, planted.contact.surface.normal)
      : soleOf(study, figure, { planted, plant: run }, other, true);
  const { apart, between, stands } = sole;
  const { travel } = over(stands);
  return { apart, between, stands, travel: travel > limit ? travel : sole.travel };
}

/** How far the sole as a whole travels over a plant of one end, while the other end may stand as well. */
function soleOf(
  study: Study,
  figure: number,
  { planted, plant }: Pick<PlantTravel, "planted" | "plant">,
  other: PlantedContact,
  isExact = false,
): Travel {
  const isDown = downAt(study, figure, other);
  return soleTravel(planted.path, other.path, isDown, plant, planted.contact.surface.normal, isExact);
}

/** The sample of a plant at which the point moves least: where it is meant to stand. */
function stillest(path: Float64Array, plant: Span, normal: readonly [number, number, number]): number {
  let best = plant.from;
  let least = Number.POSITIVE_INFINITY;
  for (let i = plant.from + 1; i <= plant.to; i++) {
    const step = stepAlong(path, i, normal) + (i < plant.to ? stepAlong(path, i + 1, normal) : 0);
    if (step < least) {
      least = step;
      best = i;
    }
  }
  return best;
}

function travelFrom(
  path: Float64Array,
  origin: number,
  plant: Span,
  normal: readonly [number, number, number],
): number[] {
  const values: number[] = [];
  for (let i = plant.from; i <= plant.to; i++) values.push(Math.sqrt(squaredAlong(path, origin, i, normal)));
  return values;
}
