import { standardGravity } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween, lengthOf } from "../../../base/vector.ts";
import { type GroundPoint, marginAt, marginTo, nearestTo } from "../../../motion/body/balance.ts";
import { flightsOf } from "../../../motion/body/flight.ts";
import { type GroundDemand, isSamePoint } from "../../../motion/body/ground-demand.ts";
import { massCentreOf, massCentreVelocityOf } from "../../../motion/body/mass-centre.ts";
import { type Contact, contactsOf } from "../../../motion/ground/contact.ts";
import { heightOf, hipsOf } from "../../../motion/ground/foot-plant.ts";
import { namedFootPointsOf } from "../../../motion/ground/foot-points.ts";
import { seatsOf } from "../../../motion/ground/seats.ts";
import { touchesOf } from "../../../motion/ground/touch-down.ts";
import { commonCentreOf } from "../../../motion/parts/loads.ts";
import { bodyCutsOf, cutsOf, piecesOf } from "../../../motion/path/cuts.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import type { HeldHull } from "./held-hull.ts";

/** A body that is held where its feet cannot hold it: the samples at which that is certain. */
export interface Lean extends Span {
  /** These and the ones beside them in which it is still seen to be outside. */
  readonly shown: Span;
}

export interface LeanValues {
  /** What the body stands on, hovering feet included. */
  readonly hullAt: HeldHull;
  /** How far outside what carries it a body may be held, metres. */
  readonly outside: number;
  /** 1 where wings or fins beat, and may carry the body. */
  readonly beating: Uint8Array;
  readonly frames: number;
  /** The same for a pose that step keys hold. */
  readonly pose: number;
  readonly step: number;
}

/** Leans of a figure that no step comes to catch, in order. */
export function leansOf(study: Study, figure: number, footing: GroundDemand, values: LeanValues): Lean[] {
  const leans: Lean[] = [];
  const runs = leaningRuns(study, figure, footing, values);
  if (runs.length === 0) return leans;
  const lands = landingsOf(study, figure);
  for (const run of runs.flatMap((one) => heldParts(study, figure, footing, one, lands, values))) {
    const { to, lasts } = run;
    if (to - run.from + 1 < Math.round(values.frames) && !isPosed(study, figure, run, values.pose)) continue;
    const shown = shownAround(study, figure, footing, { from: run.from, to }, lasts, values);
    const before = leans[leans.length - 1];
    // Where the body stays outside between two runs, they are one lean.
    if (before !== undefined && shown.from <= before.shown.to + 1) {
      leans[leans.length - 1] = { from: before.from, to, shown: { from: before.shown.from, to: shown.to } };
    } else leans.push({ from: run.from, to, shown });
  }
  return leans;
}

/** Whether step keys hold the body for so many frames of a run in one pose. */
function isPosed(study: Study, figure: number, { from, to }: Span, pose: number): boolean {
  const cuts = bodyCutsOf(study, figure);
  if (cuts.length === 0) return false;
  const path = massCentreOf(study, figure);
  return piecesOf(path.length / 3, null, cuts).some((piece) => {
    const [first, last] = [Math.max(from, piece.from), Math.min(to, piece.to)];
    return last - first + 1 >= Math.round(pose) && isSamePoint(path, first, last);
  });
}

/** Runs of samples at which both points lie outside what carries; long ones are all found. */
function leaningRuns(study: Study, figure: number, footing: GroundDemand, values: LeanValues): Span[] {
  const { steady, seated } = footing;
  const { outside, beating } = values;
  // How far a person's sole reaches around a single point is known of the feet of a body map alone.
  const { kind } = figuresOf(study)[figure];
  const isKnown = kind !== "human" || namedFootPointsOf(rigOf(study), figuresOf(study)[figure]).length > 0;
  const fewest = isKnown ? 1 : 2;
  const leans = (i: number) => {
    if (steady[i] === 0 || seated[i] === 1 || beating[i] === 1) return false;
    const moving = footing.extrapolated(i);
    // Near a planted node the hull is near, and need not be built.
    if (footing.nearFeet(i, moving) < outside) return false;
    const pressed = footing.zeroMoment(i);
    if (pressed === null || footing.nearFeet(i, pressed) < outside) return false;
    const hull = values.hullAt(i);
    return hull.length >= fewest && marginTo(hull, moving) < -outside && marginTo(hull, pressed) < -outside;
  };
  const runs: Span[] = [];
  // A hull per sample costs more than all the rest: samples half of the fewest frames apart miss no run.
  const stride = Math.max(1, Math.floor(Math.min(values.frames, values.pose) / 2));
  for (let i = 0; i < steady.length; i += stride) {
    if (!leans(i)) continue;
    let from = i;
    while (from > 0 && leans(from - 1)) from--;
    let to = i;
    while (to + 1 < steady.length && leans(to + 1)) to++;
    runs.push({ from, to });
    i = to;
  }
  return runs;
}

/**
 * A run of certain samples with those beside it at which the body is still seen to be outside: its centre of mass, or
 * the point at which the ground would have to press, lies outside what carries it. A body that sets out presses on the
 * other side, which is no part of the lean.
 * @param lasts whether the lean may go on after the run: not where a step ends it
 */
function shownAround(
  study: Study,
  figure: number,
  footing: GroundDemand,
  run: Span,
  lasts: boolean,
  values: LeanValues,
): Span {
  const { steady, seated } = footing;
  const centre = commonCentreOf(study, figure);
  const isOut = (i: number, side: GroundPoint) => {
    if (steady[i] === 0 || seated[i] === 1 || values.beating[i] === 1) return false;
    const hull = values.hullAt(i);
    const isBeyond = (x: number, z: number) => {
      const [a, b] = fromMiddle(hull, x, z);
      return marginAt(hull, x, z) < -values.outside && a * side[0] + b * side[1] > 0;
    };
    if (hull.length === 0) return false;
    if (isBeyond(centre[3 * i], centre[3 * i + 2])) return true;
    const pressed = footing.zeroMoment(i);
    return pressed !== null && isBeyond(pressed[0], pressed[1]);
  };
  const sideAt = (i: number) => {
    const [x, z] = footing.extrapolated(i);
    return fromMiddle(values.hullAt(i), x, z);
  };
  let { from, to } = run;
  const [before, after] = [sideAt(from), sideAt(to)];
  while (from > 0 && isOut(from - 1, before)) from--;
  while (lasts && to + 1 < steady.length && isOut(to + 1, after)) to++;
  return { from, to };
}

/** Where a point lies, seen from the middle of a hull's corners. */
function fromMiddle(hull: readonly GroundPoint[], x: number, z: number): GroundPoint {
  let [a, b] = [x, z];
  for (const corner of hull) {
    a -= corner[0] / hull.length;
    b -= corner[1] / hull.length;
  }
  return [a, b];
}

/**
 * The parts of a run in which nothing comes to catch the body: up to as long before a step as a step may take, and from the
 * step on, which is a lean of its own if the body hangs beside the new foot.
 */
function heldParts(
  study: Study,
  figure: number,
  footing: GroundDemand,
  run: Span,
  lands: readonly number[],
  values: LeanValues,
): (Span & { readonly lasts: boolean })[] {
  const caught = catchingStep(study, figure, footing, run, lands, values);
  if (caught === null) return [{ ...run, lasts: true }];
  const held = { from: run.from, to: Math.min(run.to, caught.since - 1), lasts: false };
  const rest = { from: caught.at, to: run.to };
  return rest.from > rest.to ? [held] : [held, ...heldParts(study, figure, footing, rest, lands, values)];
}

/** A body that topples over bent legs takes twice as long to its seat as a free fall would (our choice). */
const fallFactor = 2;

interface Catch {
  /** Sample at which the body is caught. */
  readonly at: number;
  /** First sample before it from which on the body may lean for it. */
  readonly since: number;
}

/**
 * The first catch after the start of a lean: the body comes down on a seat, takes off to the side to which it leans, or
 * a contact begins that brings what carries under the body, or beyond it in the direction in which it falls: from there the
 * ground can push it back.
 * @param lands from {@link landingsOf}
 */
function catchingStep(
  study: Study,
  figure: number,
  footing: GroundDemand,
  run: Span,
  lands: readonly number[],
  values: LeanValues,
): Catch | null {
  const comes = (from: number) => from > run.from && from <= run.to + values.step;
  let first = Number.POSITIVE_INFINITY;
  let seat: Catch = { at: -1, since: -1 };
  for (const { from } of seatsOf(study, figure)) {
    if (!comes(from) || from >= first) continue;
    const since = fallsSince(study, figure, from);
    if (since > run.to + 1) continue;
    first = from;
    seat = { at: from, since };
  }
  for (const { from } of flightsOf(study, figure))
    if (comes(from) && from < first && goesWithLean(study, figure, footing, run, from, values)) first = from;
  for (const from of lands) {
    if (from <= run.from) continue;
    if (!comes(from) || from >= first) break;
    const [hull, before] = [values.hullAt(from), values.hullAt(from - 1)];
    const body = footing.extrapolated(from);
    // A body that is back over what carried it before has come there by itself.
    const isBack = before.length > 0 && marginTo(before, body) > -values.outside;
    const isUnder = !isBack && marginTo(hull, body) > -values.outside;
    if (!isUnder && !reachesBeyond(hull, before, body, values.outside)) continue;
    first = from;
    break;
  }
  if (first === Number.POSITIVE_INFINITY) return null;
  return first === seat.at ? seat : { at: first, since: Math.floor(first - values.step) };
}

/**
 * First sample from which on a body comes down to a seat no more slowly than it would fall over its feet. A seat catches what
 * falls onto it; who is let down on it more slowly is carried by the feet alone until then.
 */
function fallsSince(study: Study, figure: number, at: number): number {
  const height = heightOf(study, hipsOf(study, figure));
  const { dt } = gridOf(study);
  const way = (frames: number) => 0.5 * standardGravity * ((frames * dt) / fallFactor) ** 2;
  let since = at;
  while (since > 0 && height[since - 1] - height[at] >= way(at - since + 1)) since--;
  return since;
}

/** Samples at which a contact of a figure begins, or goes on elsewhere in another pose, in order: its runs share them. */
function landingsOf(study: Study, figure: number): readonly number[] {
  const lands = contactsOf(study, figure).flatMap((contact) => [
    touchesOf(study, figure, contact).from,
    ...stepsOfPoses(study, figure, contact),
  ]);
  return lands.sort((a, b) => a - b);
}

/** A foot that stands over by less than half of its own length, from pose to pose, has slid there (our choice). */
const leastStep = 0.5 * lengthShare.foot;

/** Samples at which a foot stands elsewhere in the next pose of step keys: it has stepped, though nobody sees it in the air. */
function stepsOfPoses(study: Study, figure: number, { node, from, to }: Contact): number[] {
  const { position } = worldOf(study, node);
  const least = leastStep * statureOf(study, figure);
  return [...cutsOf(study, node)].filter(
    (cut) => cut > from && cut <= to && distanceBetween(position, cut - 1, position, cut) >= least,
  );
}

/** Whether a body takes off at a sample to the side to which it leans before: it falls ahead into its jump. */
function goesWithLean(
  study: Study,
  figure: number,
  footing: GroundDemand,
  { to }: Span,
  takeOff: number,
  { hullAt }: LeanValues,
): boolean {
  const hull = hullAt(to);
  if (hull.length === 0) return false;
  const [x, z] = footing.extrapolated(to);
  const [a, b] = nearestTo(hull, x, z);
  const velocity = massCentreVelocityOf(study, figure);
  return velocity[3 * takeOff] * (x - a) + velocity[3 * takeOff + 2] * (z - b) > 0;
}

/** Whether a hull reaches as far as a body that is outside of the hull before it, in the direction of its fall. */
function reachesBeyond(
  hull: readonly GroundPoint[],
  before: readonly GroundPoint[],
  [x, z]: GroundPoint,
  outside: number,
): boolean {
  if (before.length === 0 || marginAt(before, x, z) > -outside) return false;
  const [a, b] = nearestTo(before, x, z);
  const length = lengthOf(x - a, z - b);
  const along = (point: GroundPoint) => ((point[0] - x) * (x - a) + (point[1] - z) * (z - b)) / length;
  return hull.some((corner) => along(corner) > -outside);
}
