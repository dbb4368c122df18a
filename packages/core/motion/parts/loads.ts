import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { headerOf } from "../../document/inputs.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { propsOf } from "../../rig/props.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { type Load, middleOfNodes, withLoads } from "../body/common-centre.ts";
import { massCentreOf } from "../body/mass-centre.ts";
import { gripsOf } from "./grips.ts";

/** Kilograms in a cubic metre of water. */
const water = 1000;
/** Kilograms for each square metre of stature. */
const massIndex = 22;
/** From which share of a body's mass on a thing is a load: 3 kg for 70 kg (ISO 11228-1, 2021; from memory). */
export const heavyShare = 0.043;

/**
 * Kilograms of a prop; NaN where nothing tells them.
 * @param density of a thing whose mass is not declared, against water
 */
export function massOf(study: Study, node: number, density: number): number {
  const prop = propsOf(study).find((one) => one.node === node);
  if (prop === undefined) return Number.NaN;
  if (!Number.isNaN(prop.mass)) return prop.mass;
  return prop.volume > 0 ? density * water * prop.volume : Number.NaN;
}

/** Kilograms of a figure: as declared, else by a middling body mass index. */
export function bodyMassOf(study: Study, figure: number): number {
  const { id } = figuresOf(study)[figure];
  return (
    headerOf(study).figures?.find((one) => one.id === id)?.mass ?? massIndex * statureOf(study, figure) ** 2
  );
}

/** Stretches in which any hand of a figure holds a thing. */
export function holdsOf(study: Study, figure: number): (Span & { readonly thing: number })[] {
  const holds: { thing: number; from: number; to: number }[] = [];
  const grips = gripsOf(study).filter((grip) => grip.figure === figure);
  for (const { thing, from, to } of [...grips].sort((a, b) => a.from - b.from)) {
    const same = holds.find((hold) => hold.thing === thing && from <= hold.to + 1);
    if (same === undefined) holds.push({ thing, from, to });
    else same.to = Math.max(same.to, to);
  }
  return holds;
}

/** Least way up or down in a hold by which a thing is known to be off what it stood on, body heights. */
const leastRise = 0.1;
/** A thing that is within this of where it was taken, or laid down, stands there still, body heights. */
const inPlace = 0.01;
/** How long hands take a weight over before it leaves its place, seconds: loading phases of 200 to 400 ms (Johansson & Westling, from memory). */
const loading = 0.25;

/**
 * The loads of a figure: things of declared mass that its hands take up or let down, where these are off what they stood on.
 * Hands that take one load it before it leaves its place. Those who carry it together share it alike, each at its own hands.
 * @param figure index into `figuresOf`
 */
export const loadsOf = measure("loads", (study, figure: number): readonly Load[] => {
  if (propsOf(study).every(({ mass }) => Number.isNaN(mass))) return [];
  const own = bodyMassOf(study, figure);
  const stature = statureOf(study, figure);
  return holdsOf(study, figure).flatMap((hold): Load[] => {
    const mass = massOf(study, hold.thing, Number.NaN);
    const share = mass / own;
    const { position } = worldOf(study, hold.thing);
    if (!(share >= heavyShare)) return [];
    const { low, high } = heightsOf(position, hold);
    if (high - low < leastRise * stature) return [];
    const at = weighsAt(study, figure, hold);
    return [{ thing: hold.thing, at, share: carried(study, hold, share, inPlace * stature) }];
  });
});

/**
 * Where a load weighs on a body: at its own place if nobody else bears it, for the hands keep all of it from turning; of what
 * another body bears with it for most of the hold, each has a part at its own hands.
 */
function weighsAt(
  study: Study,
  figure: number,
  { thing, from, to }: Span & { readonly thing: number },
): readonly number[] {
  let shared = 0;
  for (let i = from; i <= to; i++) if (holdersAt(study, thing, i) > 1) shared++;
  if (2 * shared <= to - from + 1) return [thing];
  const hands = gripsOf(study).filter(
    (grip) => grip.figure === figure && grip.thing === thing && grip.from <= to && grip.to >= from,
  );
  return [...new Set(hands.map(({ hand }) => hand))];
}

function heightsOf(
  position: Float64Array,
  { from, to }: Span,
): { readonly low: number; readonly high: number } {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = from; i <= to; i++) {
    low = Math.min(low, position[3 * i + 1]);
    high = Math.max(high, position[3 * i + 1]);
  }
  return { low, high };
}

/** The share of a load that its holder carries, at each sample. */
function carried(
  study: Study,
  { thing, from, to }: Span & { readonly thing: number },
  share: number,
  near: number,
): Float64Array {
  const { count, rate } = gridOf(study);
  const { position } = worldOf(study, thing);
  const last = Math.min(to, count - 1);
  const reach = Math.max(1, Math.round(loading * rate));
  const isNear = (at: number, other: number) => distanceBetween(position, at, position, other) < near;
  const { low } = heightsOf(position, { from, to: last });
  // What rested before it was taken, and rests when it is let go, stands in its place until it leaves it. At the ends of
  // the shot nothing tells, but that nothing is held lower than where it stands.
  const standsAt = (at: number, beyond: number, within: number) =>
    isNear(at, within) &&
    (beyond < 0 || beyond >= count ? position[3 * at + 1] < low + near : isNear(at, beyond));
  let [leaves, comes] = [from, last];
  if (standsAt(from, from - reach, Math.min(last, from + 2)))
    while (leaves < last && isNear(from, leaves)) leaves++;
  if (standsAt(last, last + reach, Math.max(from, last - 2)))
    while (comes > leaves && isNear(last, comes)) comes--;
  const isHeldOn = [leaves === from, comes === last];
  const out = floats(count);
  for (let i = from; i <= last; i++) {
    const taking = isHeldOn[0] ? 1 : 1 - (leaves - i) / reach;
    const leaving = isHeldOn[1] ? 1 : 1 - (i - comes) / reach;
    const whole = Math.max(0, Math.min(1, taking, leaving));
    out[i] = whole > 0 ? (whole * share) / holdersAt(study, thing, i) : 0;
  }
  return out;
}

/** How many figures hold a thing at a sample. */
export function holdersAt(study: Study, thing: number, i: number): number {
  const grips = gripsOf(study);
  const isHeld = (n: number) => grips[n].thing === thing && grips[n].from <= i && grips[n].to >= i;
  let holders = 0;
  for (let n = 0; n < grips.length; n++) {
    if (!isHeld(n)) continue;
    // Of two hands of one figure the first counts.
    let first = 0;
    while (grips[first].figure !== grips[n].figure || !isHeld(first)) first++;
    if (first === n) holders++;
  }
  return Math.max(1, holders);
}

/**
 * Common centre of mass of a figure and the loads that it carries, metres, 3 numbers per sample: what has to be over the feet.
 * @param figure index into `figuresOf`
 */
export function commonCentreOf(study: Study, figure: number): Float64Array {
  return loadsOf(study, figure).length === 0 ? massCentreOf(study, figure) : loadedCentreOf(study, figure);
}

const loadedCentreOf = measure("loaded centre", (study, figure: number): Float64Array => {
  const place = ({ at }: Load) => middleOfNodes(at, (node) => worldOf(study, node).position);
  return withLoads(massCentreOf(study, figure), loadsOf(study, figure), place);
});
