import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween, lengthOf } from "../../../base/vector.ts";
import { headerOf } from "../../../document/inputs.ts";
import { stridesOf } from "../../../motion/ground/gait.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { carrierOf, figuresOf, statureOf } from "../../../rig/body.ts";
import { type Limb, limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";

/** The arms of a figure that have all their joints. */
export function armsOf(study: Study, figure: number): readonly Limb[] {
  return limbsOf(study, figure).filter(({ kind }) => kind === "arm");
}

/** A stretch in which a hand stays where it is against the body: first and last sample. */
export interface HandHold {
  readonly from: number;
  readonly to: number;
  /** How far it has come to there within the second before, metres. */
  readonly travel: number;
}

/** How far a hand may stray against the hips and still hold its pose, body heights; common practice: a moving hold breathes. */
const holdRadius = 0.03;

/**
 * Stretches in which a hand stays within 3 % of the body's height for a sixth of a second and more, again and again: a hold,
 * and one that drifts. It is seen from the hips, which a pose in a walk is too.
 */
export function handHoldsOf(study: Study, figure: number, hand: number): HandHold[] {
  const { count, rate } = gridOf(study);
  const at = worldOf(study, hand).position;
  const hips = worldOf(study, carrierOf(figuresOf(study)[figure])).position;
  const between = (i: number, k: number) =>
    lengthOf(
      at[3 * i] - hips[3 * i] - at[3 * k] + hips[3 * k],
      at[3 * i + 1] - hips[3 * i + 1] - at[3 * k + 1] + hips[3 * k + 1],
      at[3 * i + 2] - hips[3 * i + 2] - at[3 * k + 2] + hips[3 * k + 2],
    );
  const radius = holdRadius * statureOf(study, figure);
  const least = Math.round(rate / 6);
  const holds: HandHold[] = [];
  for (let from = 0; from < count; ) {
    let to = from;
    while (to + 1 < count && between(to + 1, from) <= radius) to++;
    if (to - from < least) {
      from++;
      continue;
    }
    const before = holds.at(-1);
    if (before !== undefined && before.to + 1 === from) {
      // A hold that drifts: it was come to where it began.
      holds[holds.length - 1] = { ...before, to };
      from = to + 1;
      continue;
    }
    let travel = 0;
    for (let i = Math.max(0, Math.round(from - rate)); i < from; i++)
      travel = Math.max(travel, between(i, from));
    holds.push({ from, to, travel });
    from = to + 1;
  }
  return holds;
}

/** Arms swing on for so long after the last step of a walk, and before the first: half a second (common practice). */
const swingsOn = 0.5;

/** 1 where a figure walks, or has just come to stand. */
export function walksAt(study: Study, figure: number): Uint8Array {
  const { count, rate } = gridOf(study);
  const walks = bytes(count);
  const more = Math.round(swingsOn * rate);
  for (const { from, to } of stridesOf(study, figure)) walks.fill(1, Math.max(0, from - more), to + more + 1);
  return walks;
}

/** Cosine of 30°: a forearm that hangs swings no farther (common practice). */
const hanging = Math.cos(Math.PI / 6);

/** Cosine of 60°: so far an arm swings forward with a walk, shoulder and elbow together (25° and 35°; from memory). */
const swinging = Math.cos(Math.PI / 3);

/** Whether an arm hangs: the elbow beneath the shoulder, the forearm within 30° of straight down, in a walk within 60°. */
export function hangs(study: Study, { root, middle, end }: Limb, i: number, walks = false): boolean {
  const [shoulder, elbow, hand] = [root, middle, end].map((node) => worldOf(study, node).position);
  const k = 3 * i;
  const length = distanceBetween(elbow, i, hand, i);
  return (
    elbow[k + 1] < shoulder[k + 1] && elbow[k + 1] - hand[k + 1] >= (walks ? swinging : hanging) * length
  );
}

/** Whether a hand touches something, as the document says, or holds a thing, as that says or motion shows, at a sample. */
export function isAtSomething(study: Study, hand: number, i: number): boolean {
  const rig = rigOf(study);
  const frame = gridOf(study).frames[i];
  const { contacts = [] } = headerOf(study);
  return (
    contacts.some(({ node, frames }) => {
      const index = rig.indexOf.get(node);
      const isHand = index !== undefined && isAbove(rig, hand, index);
      return isHand && frame >= frames[0] && frame <= frames[1];
    }) || gripsOf(study).some((grip) => isAbove(rig, hand, grip.hand) && i >= grip.from && i <= grip.to)
  );
}

/**
 * Whether a hand is where the document says that it has to be: in a contact, or holding a prop that another one holds as
 * well, or that is in a contact itself. What one hand carries goes where the arm goes.
 */
export function isTied(study: Study, hand: number, i: number): boolean {
  const rig = rigOf(study);
  const frame = gridOf(study).frames[i];
  const { contacts = [], props = [] } = headerOf(study);
  const isNow = (frames: readonly number[]) => frame >= frames[0] && frame <= frames[1];
  const isHand = (id: string) => {
    const node = rig.indexOf.get(id);
    return node !== undefined && isAbove(rig, hand, node);
  };
  const touches = (id: string) => contacts.some(({ node, frames }) => node === id && isNow(frames));
  return (
    contacts.some(({ node, frames }) => isHand(node) && isNow(frames)) ||
    props.some(({ node, heldBy = [] }) => {
      const now = heldBy.filter(({ frames }) => isNow(frames));
      return now.some((one) => isHand(one.node)) && (now.length > 1 || touches(node));
    })
  );
}
