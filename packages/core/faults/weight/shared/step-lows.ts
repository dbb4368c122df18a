import type { Study } from "../../../base/study.ts";
import { rollingOf } from "../../../motion/ground/contact.ts";
import type { FootPlant } from "../../../motion/ground/foot-plant.ts";

/** The first sample at which a foot is down, where a declared contact may cover the flat stance alone. */
export function onsetOf(study: Study, figure: number, { heel, toe, from }: FootPlant): number {
  const own = [heel, toe].filter((contact) => contact !== null);
  return Math.min(from, ...own.map((contact) => rollingOf(study, figure, contact).from));
}

/** How many frames (at 24 per second) before a contact a low may belong to it: a quarter of a step of a walk on twelves. */
export const beforeContact = 3;

/** A low of the hips beside a contact, in samples. */
export interface StepLow {
  readonly contact: number;
  readonly at: number;
  /** From the contact to the low, between samples too. */
  readonly delay: number;
}

/** The low that belongs to a contact; null where the hips have none that is deep enough to be seen on both sides. */
export function lowAround(
  height: Float64Array,
  contact: number,
  next: number,
  before: number,
  rise: number,
): StepLow | null {
  const half = Math.round((next - contact) / 2);
  const first = Math.max(1, contact - before);
  const last = Math.min(height.length - 2, contact + half);
  let at = first;
  for (let i = first; i <= last; i++) if (height[i] < height[at]) at = i;
  const a = height[at - 1];
  const b = height[at];
  const c = height[at + 1];
  if (last < first || !(b < a) || !(b <= c)) return null;
  let left = b;
  let right = b;
  for (let i = Math.max(0, at - half); i < at; i++) left = Math.max(left, height[i]);
  for (let i = at + 1; i <= Math.min(height.length - 1, at + half); i++) right = Math.max(right, height[i]);
  if (Math.min(left, right) - b < rise) return null;
  return { contact, at, delay: at + (c - a) / (2 * (2 * b - a - c)) - (contact - 0.5) };
}
