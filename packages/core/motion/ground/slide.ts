import type { Span } from "../../time/span.ts";

type Normal = readonly [number, number, number];

/** Squared distance, in a surface, of two samples of a path (3 numbers per sample). */
export function squaredAlong(path: Float64Array, a: number, b: number, normal: Normal): number {
  const x = path[3 * b] - path[3 * a];
  const y = path[3 * b + 1] - path[3 * a + 1];
  const z = path[3 * b + 2] - path[3 * a + 2];
  const out = x * normal[0] + y * normal[1] + z * normal[2];
  return Math.max(0, x * x + y * y + z * z - out * out);
}

/** Length, in a surface, of the step that leads to a sample. */
export function stepAlong(path: Float64Array, sample: number, normal: Normal): number {
  return Math.sqrt(squaredAlong(path, sample - 1, sample, normal));
}

/** How far a path travels in a surface, and between which samples. */
export interface Travel {
  /** Largest distance of two samples, metres. */
  readonly travel: number;
  /** The two samples, the earlier one first. */
  readonly apart: Span;
  /** The samples between which it goes that way, without the stands before and after (see `goingBetween`). */
  readonly between: Span;
  /** The last sample at which it stands before it sets out, and the first one at which it stands after. */
  readonly stands: Span;
}

/**
 * The two samples of a run that lie farthest apart in a surface, found by going to the farthest sample from the first
 * one and from there to the farthest again: exact on a line, at least half of the largest
 * distance anywhere (no point is nearer to all others), in two passes instead of one per sample.
 */
export function farthestApart(path: Float64Array, run: Span, normal: Normal): Travel {
  const a = farthestFrom(path, run.from, run, normal);
  const b = farthestFrom(path, a, run, normal);
  const squared = squaredAlong(path, a, b, normal);
  const apart = { from: Math.min(a, b), to: Math.max(a, b) };
  return { travel: Math.sqrt(squared), apart, ...goingBetween(path, apart, squared, normal) };
}

/**
 * The same, exactly, by every pair of samples: for the few runs that are told.
 * @returns as {@link farthestApart}
 */
export function widestApart(path: Float64Array, run: Span, normal: Normal): Travel {
  let most = 0;
  let apart = { from: run.from, to: run.from };
  for (let from = run.from; from < run.to; from++) {
    const to = farthestFrom(path, from, { from: from + 1, to: run.to }, normal);
    const squared = squaredAlong(path, from, to, normal);
    if (squared <= most) continue;
    most = squared;
    apart = { from, to };
  }
  return { travel: Math.sqrt(most), apart, between: apart, stands: apart };
}

/** The travel alone of {@link farthestApart}, for searches that ask for it again and again. */
export function farthestTravel(path: Float64Array, run: Span, normal: Normal): number {
  return Math.sqrt(farthestSquared(path, run, normal));
}

/**
 * The square of {@link farthestTravel}, for who looks for the least of many.
 * @param enough from here on it may be told too short, but never under this
 */
export function farthestSquared(
  path: Float64Array,
  run: Span,
  normal: Normal,
  enough = Number.POSITIVE_INFINITY,
): number {
  const a = farthestFrom(path, run.from, run, normal, enough);
  const first = squaredAlong(path, run.from, a, normal);
  // From there it is as far back at least.
  if (first >= enough) return first;
  return squaredAlong(path, a, farthestFrom(path, a, run, normal, enough), normal);
}

/**
 * Within this share of the travel from where it stands before it, or after, a path has not set out, or has arrived: 1
 * mm of a slide of 3 cm (our choice).
 */
const nearShare = 0.03;
/**
 * What is left out of the frames that are marked, at either end, as a share of the travel: with both ends, less than what
 * is read off a number of two digits (our choice).
 */
const markedShare = 0.01;
/** A path stands where its steps are less than a thirtieth of those that it goes with: it drifts (our choice). */
const standShare = 1 / 30;

/**
 * The samples between which a path goes its way, from the stand before it to the one after it. These stands are looked
 * for around the shortest run that makes nearly all of the way, so that a settling of a few millimetres at a landing,
 * long before a slide, is left out.
 */
function goingBetween(
  path: Float64Array,
  apart: Span,
  squared: number,
  normal: Normal,
): Pick<Travel, "between" | "stands"> {
  const way = shortestWay(path, apart, squared, normal);
  const still = (standShare ** 2 * squared) / (way.to - way.from) ** 2;
  const goes = (i: number) => squaredAlong(path, i - 1, i, normal) > still;
  let start = way.from;
  let end = way.to;
  while (start > apart.from && goes(start)) start--;
  while (end < apart.to && goes(end + 1)) end++;
  const near = markedShare ** 2 * squared;
  let from = start;
  let to = end;
  while (from + 1 < to && squaredAlong(path, start, from + 1, normal) <= near) from++;
  while (to - 1 > from && squaredAlong(path, end, to - 1, normal) <= near) to--;
  return { between: { from, to }, stands: { from: start, to: end } };
}

/** The shortest run of samples over which a path makes all of a way but {@link nearShare} at either end. */
function shortestWay(
  path: Float64Array,
  { from: start, to: end }: Span,
  squared: number,
  normal: Normal,
): Span {
  const enough = (1 - 2 * nearShare) ** 2 * squared;
  let best = { from: start, to: end };
  for (let from = start, to = start + 1; from < end; from++) {
    to = Math.max(to, from + 1);
    while (to < end && squaredAlong(path, from, to, normal) < enough) to++;
    if (squaredAlong(path, from, to, normal) < enough) break;
    if (to - from < best.to - best.from) best = { from, to };
  }
  return best;
}

/** @param enough the first sample that is so far is taken */
function farthestFrom(
  path: Float64Array,
  origin: number,
  run: Span,
  normal: Normal,
  enough = Number.POSITIVE_INFINITY,
): number {
  let best = origin;
  let most = 0;
  for (let i = run.from; i <= run.to; i++) {
    const squared = squaredAlong(path, origin, i, normal);
    if (squared > most) {
      most = squared;
      best = i;
      if (squared >= enough) break;
    }
  }
  return best;
}

/** Halvings, by thirds, of the sole in which its stillest point lies: to about a hundredth of its length. */
const searches = 12;

/** Per sample of a run: 1 where the other end of the foot is down. */
export function downIn(isDown: (sample: number) => boolean, { from, to }: Span): Uint8Array {
  const down = new Uint8Array(to - from + 1);
  for (let i = from; i <= to; i++) if (isDown(i)) down[i - from] = 1;
  return down;
}

/**
 * Tells the path over a run of a point of the sole by its share of the way from one end to the other: it goes with both
 * while both are down, else with the one that is. Each call writes over the last one's path.
 * @param both from {@link downIn}
 * @param path 3 numbers per sample of the run; searches that ask again and again hand in the same each time
 */
export function soleCourse(
  own: Float64Array,
  other: Float64Array,
  both: Uint8Array,
  run: Span,
  path: Float64Array = new Float64Array(3 * (run.to - run.from + 1)),
): (share: number) => Float64Array {
  const count = run.to - run.from + 1;
  return (share) => {
    path[0] = path[1] = path[2] = 0;
    for (let i = 1, k = 3; i < count; i++) {
      const areDown = both[i] & both[i - 1];
      for (const end = k + 3; k < end; k++) {
        const at = k + 3 * run.from;
        const step = own[at] - own[at - 3];
        const others = areDown ? other[at] - other[at - 3] : step;
        path[k] = path[k - 3] + step + share * (others - step);
      }
    }
    return path;
  };
}

/**
 * How far a sole travels over a run in which one end of it is down: the travel of that point of it, from this end to the
 * other one, that travels least, since a foot that swivels turns about the point that bears it, wherever that is under
 * the sole. While the other end is up, the travel is this end's own.
 * @param own path of the point of the sole under this end, other: under the other one
 * @param isDown whether the other end stands at a sample
 * @param isExact whether the travel is that of {@link widestApart}, else of {@link farthestApart}
 */
export function soleTravel(
  own: Float64Array,
  other: Float64Array,
  isDown: (sample: number) => boolean,
  run: Span,
  normal: Normal,
  isExact = false,
): Travel {
  const count = run.to - run.from + 1;
  const place = soleCourse(own, other, downIn(isDown, run), run);
  const whole = { from: 0, to: count - 1 };
  const travelOf = isExact ? widestApart : farthestApart;
  const travelAt = (share: number) =>
    isExact ? widestApart(place(share), whole, normal).travel : farthestTravel(place(share), whole, normal);
  // The distance of two samples is convex in the point's place, and so is the largest of them.
  let low = 0;
  let high = 1;
  for (let n = 0; n < searches; n++) {
    const third = (high - low) / 3;
    if (travelAt(low + third) <= travelAt(high - third)) high -= third;
    else low += third;
  }
  let stillest = 0;
  let shortest = travelAt(0);
  for (const share of [(low + high) / 2, 1]) {
    const travel = travelAt(share);
    if (travel < shortest) {
      stillest = share;
      shortest = travel;
    }
  }
  const least = travelOf(place(stillest), whole, normal);
  const moved = ({ from, to }: Span): Span => ({ from: from + run.from, to: to + run.from });
  return {
    travel: least.travel,
    apart: moved(least.apart),
    between: moved(least.between),
    stands: moved(least.stands),
  };
}
