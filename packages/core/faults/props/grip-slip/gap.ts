import { rotateVector } from "../../../base/quaternion.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import type { Vector } from "../../../base/vector.ts";
import { fingerTipsOf } from "../../../motion/parts/grip-slip.ts";
import type { Grip } from "../../../motion/parts/grips.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gapTo } from "../../../rig/prop-shape.ts";
import { type Prop, propsOf } from "../../../rig/props.ts";
import { chainOf, rigOf } from "../../../rig/rig.ts";
import type { World } from "../../../rig/world.ts";
import { handThickness } from "../../../staging/flesh.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere, type Span } from "../../../time/span.ts";
import type { Fault } from "../../check.ts";
import { causeOr } from "../../weight/shared/cause-or.ts";

/** A stretch in which a hand is off the thing that the document says it holds. */
export interface Gap extends Span {
  /** Widest gap between the flesh of the hand and the thing, metres, and where it is. */
  readonly gap: number;
  readonly widest: number;
  /** Whether the hand is on the thing at another time of the hold: then the thing's shape reaches to where hands hold it. */
  readonly touches: boolean;
}

/** Shortest stretch that is told, seconds: as of a hold. */
const shortest = 0.25;
/** Points from the wrist to the finger tips that are held against the shape. */
const points = 9;
const at = new Float64Array(3);
const turned = new Float64Array(3);

/** The widest stretch of a declared hold in which the hand is farther off the thing's shape than a limit (metres); null for none. */
export function gapOf(study: Study, grip: Grip, limit: number): Gap | null {
  const prop = shapedProp(study, grip);
  if (prop === null) return null;
  const { count, rate } = gridOf(study);
  const first = Math.max(0, grip.from);
  const last = Math.min(grip.to, count - 1);
  const gaps = gapsIn(
    prop,
    handOf(study, grip),
    worldOf(study, grip.hand).position.subarray(3 * first, 3 * last + 3),
    first,
  );
  const least = Math.max(2, Math.round(shortest * rate));
  let found: Gap | null = null;
  for (const { from, to } of runsWhere(gaps.length, (i) => gaps[i] > limit)) {
    if (to - from + 1 < least) continue;
    let widest = from;
    for (let i = from; i <= to; i++) if (gaps[i] > gaps[widest]) widest = i;
    if (found !== null && gaps[widest] <= found.gap) continue;
    found = { from: first + from, to: first + to, gap: gaps[widest], widest: first + widest, touches: false };
  }
  return found === null ? null : { ...found, touches: gaps.some((gap) => gap <= limit) };
}

/** The keys by which a hand is off its thing: the gap again with another path of the hand; its turns stay. */
export function gapCause(study: Study, grip: Grip, { from, to }: Span): Fault {
  const prop = shapedProp(study, grip) as Prop;
  const hand = handOf(study, grip);
  const fault: Fault = {
    kind: "position",
    subject: grip.hand,
    lo: from,
    hi: to,
    from,
    to,
    strength: (series) => gapsIn(prop, hand, series, from).reduce((most, gap) => Math.max(most, gap), 0),
  };
  return causeOr(study, fault, chainOf(rigOf(study), grip.hand).slice().reverse(), from, to);
}

/** A hand and the thing that it is to hold. */
interface Hand {
  readonly world: World;
  readonly thing: World;
  /** Finger tips in the hand's space, metres. */
  readonly tip: Vector;
  /** Metres from its middle to its outside. */
  readonly flesh: number;
}

function handOf(study: Study, { hand, thing, figure }: Grip): Hand {
  return {
    world: worldOf(study, hand),
    thing: worldOf(study, thing),
    tip: fingerTipsOf(study, figure, hand),
    flesh: handThickness * statureOf(study, figure),
  };
}

/** The thing of a declared hold by a hand, if it has a shape; null else: what other parts hold, or straps, need not touch. */
function shapedProp(study: Study, { declared, thing, hand, figure }: Grip): Prop | null {
  const part = figuresOf(study)[figure].partOf.get(hand);
  if (!declared || (part !== "leftHand" && part !== "rightHand")) return null;
  const prop = propsOf(study).find(({ node }) => node === thing);
  return prop === undefined || prop.shapes.length === 0 ? null : prop;
}

/** Gaps at samples from a first one on, by the hand's places there. */
function gapsIn(prop: Prop, hand: Hand, places: Float64Array, first: number): Float64Array {
  const gaps = floats(places.length / 3);
  for (let i = 0; i < gaps.length; i++) gaps[i] = gapAt(prop, hand, places, i, first + i);
  return gaps;
}

/** Gap between a hand at a place and the thing at a sample, metres: over the points from the wrist to the finger tips, the least. */
function gapAt(
  prop: Prop,
  { world, thing, tip, flesh }: Hand,
  places: Float64Array,
  k: number,
  i: number,
): number {
  turned.set(tip);
  rotateVector(world.orientation, 4 * i, turned, 0, turned, 0);
  let gap = Number.POSITIVE_INFINITY;
  for (let n = 0; n < points; n++) {
    for (let axis = 0; axis < 3; axis++) at[axis] = places[3 * k + axis] + (n / (points - 1)) * turned[axis];
    gap = Math.min(gap, gapTo(prop, thing, i, at, 0));
  }
  return gap - flesh;
}
