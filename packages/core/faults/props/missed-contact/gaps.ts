import { rotateVector } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween, lengthOf, type Vector } from "../../../base/vector.ts";
import { headerOf } from "../../../document/inputs.ts";
import { declaredSurfacesOf, type Surface } from "../../../motion/ground/surface.ts";
import { fingerTipsOf } from "../../../motion/parts/grip-slip.ts";
import { firmShare, gripsOf, placesIn } from "../../../motion/parts/grips.ts";
import { figureOfNode, figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gapTo } from "../../../rig/prop-shape.ts";
import { type Prop, propsOf } from "../../../rig/props.ts";
import { rigOf } from "../../../rig/rig.ts";
import { bonesOf, handThickness } from "../../../staging/flesh.ts";
import { pathsOf, solidsOf } from "../../../staging/solids.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";

/** What the document says touches something else: a hand, or a thing that stands on a surface. */
export interface SaidContact extends Span {
  readonly node: number;
  /** Whose hand it is; of a thing who holds it at some time, else the first figure. */
  readonly figure: number;
  /** What it touches, by its id. */
  readonly on: string;
  readonly isHand: boolean;
  /** The thing whose shape it touches, which may be drawn too small; -1 where it touches something else. */
  readonly thing: number;
  /** Gap at a sample with the node at a place (3 numbers, from index 3 k on), metres; negative where the two overlap. */
  readonly gap: (places: Float64Array, k: number, i: number) => number;
}

/** Metres of a place from what it is to touch. */
type Distance = (point: Float64Array, i: number) => number;

/** Points from the wrist to the finger tips that are held against what the hand touches. */
const points = 9;

/** The contacts of hands with surfaces, things and bodies, and of things with surfaces, that the document declares. */
export function saidContactsOf(study: Study, figure: number): SaidContact[] {
  const grid = gridOf(study);
  const end = grid.frames[0] + (grid.count - 1) * grid.step;
  const { indexOf } = rigOf(study);
  return (headerOf(study).contacts ?? []).flatMap(({ node: id, with: on, frames }): SaidContact[] => {
    const node = indexOf.get(id);
    if (node === undefined || on === undefined || frames[0] > end || frames[1] < grid.frames[0]) return [];
    const span = { from: sampleAt(grid, frames[0]), to: sampleAt(grid, frames[1]) };
    const touched = touchedBy(study, node, on);
    if (touched === null) return [];
    const owner = figureOfNode(study, node);
    const part = owner < 0 ? undefined : figuresOf(study)[owner].partOf.get(node);
    if (part === "leftHand" || part === "rightHand") {
      if (owner !== figure) return [];
      const gap = handGap(study, figure, node, touched.distance);
      return [{ ...span, node, figure, on, isHand: true, thing: touched.thing, gap }];
    }
    const prop = propsOf(study).find((one) => one.node === node);
    const surface = declaredSurfacesOf(study).find((one) => one.id === on);
    if (prop === undefined || prop.shapes.length === 0 || surface === undefined) return [];
    if (whose(study, node) !== figure) return [];
    return [{ ...span, node, figure, on, isHand: false, thing: -1, gap: thingGap(study, prop, surface) }];
  });
}

/** What is at a place that a node touches; null where the document does not tell where its outside is. */
function touchedBy(
  study: Study,
  node: number,
  on: string,
): { readonly distance: Distance; readonly thing: number } | null {
  const surface = declaredSurfacesOf(study).find(({ id }) => id === on);
  if (surface !== undefined) return { distance: (point) => heightOver(surface, point, 0), thing: -1 };
  const other = rigOf(study).indexOf.get(on);
  if (other === undefined) return null;
  const prop = propsOf(study).find((one) => one.node === other);
  if (prop !== undefined && prop.shapes.length > 0) {
    const world = worldOf(study, other);
    return { distance: (point, i) => gapTo(prop, world, i, point, 0), thing: other };
  }
  const owner = figureOfNode(study, other);
  if (owner < 0 || other === node) return null;
  const flesh = fleshOf(study, owner, other);
  if (flesh.length === 0) return null;
  return {
    distance: (point, i) =>
      flesh.reduce((least, at) => Math.min(least, at(point, i)), Number.POSITIVE_INFINITY),
    thing: -1,
  };
}

function heightOver({ normal, height }: Surface, path: Float64Array, i: number): number {
  return normal[0] * path[3 * i] + normal[1] * path[3 * i + 1] + normal[2] * path[3 * i + 2] - height;
}

/** The flesh about a joint and the bones that start there; of a hand also that up to the finger tips. */
function fleshOf(study: Study, figure: number, node: number): Distance[] {
  const stature = statureOf(study, figure);
  const found: Distance[] = bonesOf(study, figure)
    .filter(({ from }) => from === node)
    .map(({ from, to, radius }) => {
      const [a, b] = [worldOf(study, from).position, worldOf(study, to).position];
      return (point, i) => toSegment(point, a, 3 * i, b, 3 * i) - radius;
    });
  const part = figuresOf(study)[figure].partOf.get(node);
  if (part === "leftHand" || part === "rightHand") {
    const tip = fingerTipsOf(study, figure, node);
    const { position, orientation } = worldOf(study, node);
    const end = new Float64Array(3);
    found.push((point, i) => {
      tipInto(end, position, 3 * i, orientation, i, tip);
      return toSegment(point, position, 3 * i, end, 0) - handThickness * stature;
    });
  }
  return found;
}

/** The gap of a hand: over the points from the wrist to the finger tips, the least, less half of its thickness. */
function handGap(study: Study, figure: number, hand: number, distance: Distance): SaidContact["gap"] {
  const tip = fingerTipsOf(study, figure, hand);
  const flesh = handThickness * statureOf(study, figure);
  const { orientation } = worldOf(study, hand);
  const end = new Float64Array(3);
  const point = new Float64Array(3);
  return (places, k, i) => {
    tipInto(end, places, 3 * k, orientation, i, tip);
    let gap = Number.POSITIVE_INFINITY;
    for (let n = 0; n < points; n++) {
      const share = n / (points - 1);
      for (let axis = 0; axis < 3; axis++)
        point[axis] = (1 - share) * places[3 * k + axis] + share * end[axis];
      gap = Math.min(gap, distance(point, i));
    }
    return gap - flesh;
  };
}

/** The gap of a thing over a surface: that of its lowest point. */
function thingGap(study: Study, { node }: Prop, surface: Surface): SaidContact["gap"] {
  const { position } = worldOf(study, node);
  const hull = solidsOf(study)
    .filter((solid) => solid.node === node && "shape" in solid.of)
    .flatMap((solid) => pathsOf(study, solid).map((path) => ({ path, radius: solid.radius })));
  return (places, k, i) => {
    let least = Number.POSITIVE_INFINITY;
    for (const { path, radius } of hull) least = Math.min(least, heightOver(surface, path, i) - radius);
    // It goes up and down with its node.
    return least + heightOver(surface, places, k) - heightOver(surface, position, i);
  };
}

/** The figure that holds a thing at some time; the first of all else. */
function whose(study: Study, thing: number): number {
  return gripsOf(study).find((grip) => grip.thing === thing)?.figure ?? 0;
}

function tipInto(
  out: Float64Array,
  places: Float64Array,
  at: number,
  orientation: Float64Array,
  i: number,
  tip: Vector,
): void {
  out.set(tip);
  rotateVector(orientation, 4 * i, out, 0, out, 0);
  for (let axis = 0; axis < 3; axis++) out[axis] += places[at + axis];
}

/** Distance of a point from the straight line between two others. */
function toSegment(point: Float64Array, a: Float64Array, ai: number, b: Float64Array, bi: number): number {
  let [dot, square] = [0, 0];
  for (let k = 0; k < 3; k++) {
    const way = b[bi + k] - a[ai + k];
    dot += (point[k] - a[ai + k]) * way;
    square += way * way;
  }
  const share = square > 0 ? Math.min(1, Math.max(0, dot / square)) : 0;
  const off = (k: number) => point[k] - a[ai + k] - share * (b[bi + k] - a[ai + k]);
  return lengthOf(off(0), off(1), off(2));
}

/** The gaps of a contact at its samples. */
export function gapsOf(study: Study, contact: SaidContact): Float64Array {
  const { position } = worldOf(study, contact.node);
  const gaps = floats(contact.to - contact.from + 1);
  for (let i = contact.from; i <= contact.to; i++) gaps[i - contact.from] = contact.gap(position, i, i);
  return gaps;
}

/** Whether a hand keeps its place on a thing over a stretch: it has it by a handle that no shape shows. */
export function keepsPlace(study: Study, { node, thing, figure }: SaidContact, { from, to }: Span): boolean {
  if (thing < 0) return false;
  const places = placesIn(worldOf(study, thing), worldOf(study, node));
  const most = firmShare * statureOf(study, figure);
  for (let i = from; i <= to; i++) if (distanceBetween(places, from, places, i) > most) return false;
  return true;
}

const moved = new Float64Array(3);
/** Metres by which a place is moved to see which way a gap goes. */
const nudge = 1e-4;

/** The way by which a node comes to what it is to touch at a sample, metres: along that on which the gap shrinks fastest. */
export function wayTo(study: Study, { node, gap }: SaidContact, i: number): Vector {
  const { position } = worldOf(study, node);
  const now = gap(position, i, i);
  const way: [number, number, number] = [0, 0, 0];
  let square = 0;
  for (let axis = 0; axis < 3; axis++) {
    for (let k = 0; k < 3; k++) moved[k] = position[3 * i + k] + (k === axis ? nudge : 0);
    way[axis] = (now - gap(moved, 0, i)) / nudge;
    square += way[axis] * way[axis];
  }
  const length = square > 0 ? Math.max(0, now) / square : 0;
  return [way[0] * length, way[1] * length, way[2] * length];
}
